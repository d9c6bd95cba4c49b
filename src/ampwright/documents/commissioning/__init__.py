"""The commissioning sheet: predicted values beside blanks for what is measured."""
