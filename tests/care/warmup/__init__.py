"""How paste warms: the figures against textbooks, tables and by hand."""
