"""What the book says: tables and clause formulas, one package per document."""
