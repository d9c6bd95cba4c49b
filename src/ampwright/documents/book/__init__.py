"""Workbooks: tables with formulas as XLSX, the same bytes for the same tables."""
