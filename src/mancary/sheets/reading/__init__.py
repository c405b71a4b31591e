"""From the bytes of a file to a table of text."""

from mancary.sheets.reading.table import SheetRow, Table, find_delimiter, read_table

__all__ = ["SheetRow", "Table", "find_delimiter", "read_table"]
