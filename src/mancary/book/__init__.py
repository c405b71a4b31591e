"""The stock book: append-only facts in one SQLite file."""

from mancary.book.book import Book, Head, Receipt, create_book, open_book
from mancary.book.trouble import BookTrouble

__all__ = ["Book", "BookTrouble", "Head", "Receipt", "create_book", "open_book"]
