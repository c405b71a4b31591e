"""Taking in a sheet: read it, show what was understood, write it in one go."""

from mancary.usecases.take_in.answer import Reading, Row, SheetReceipt
from mancary.usecases.take_in.names import NameFinder
from mancary.usecases.take_in.read import read_sheet
from mancary.usecases.take_in.write import take

__all__ = ["NameFinder", "Reading", "Row", "SheetReceipt", "read_sheet", "take"]
