"""Which button does what, drawn and in words."""
