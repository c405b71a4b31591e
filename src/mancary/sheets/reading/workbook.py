"""The filled pages of an XLSX, XLS or ODS workbook, each cell as text."""

import io
import zipfile
from datetime import date, datetime, time, timedelta
from typing import Any

from mancary.husbandry.refusal import Refusal

_MAGIC = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")
_UNPACKED_BYTES = 400_000_000
Lines = list[tuple[int, list[str]]]
_NO_WORKBOOK = "This workbook cannot be read ({}); save it again as XLSX or CSV."


def is_workbook(data: bytes) -> bool:
    """True where the first bytes are those of a workbook."""
    return data.startswith(_MAGIC)


def _refuse_bombs(data: bytes) -> None:
    if not data.startswith(b"PK"):
        return
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            size = sum(part.file_size for part in packed.infolist())
    except (zipfile.BadZipFile, ValueError, NotImplementedError, OSError) as fault:
        raise Refusal(_NO_WORKBOOK.format(fault)) from None
    if size > _UNPACKED_BYTES:
        raise Refusal("This workbook is too large unpacked; save the one sheet as CSV.")


def _number(value: float) -> str:
    """A number with a decimal point; never three decimals, which could be read as thousands."""
    text = f"{value:.10f}".rstrip("0").rstrip(".")
    whole, _, decimals = text.partition(".")
    return f"{whole}.{decimals}0" if len(decimals) == 3 else text


def cell_text(value: object) -> str:
    """The text of one cell; real dates as ISO 8601, a midnight without its hour."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return _number(float(value))
    if isinstance(value, datetime):
        bare = value.time() == time(0)
        return value.date().isoformat() if bare else value.isoformat(" ", "minutes")
    if isinstance(value, (date, time)):
        return value.isoformat()
    if isinstance(value, timedelta):
        return str(value)
    return str(value)


def workbook_pages(data: bytes) -> list[tuple[str, Lines]]:
    """Name and rows of each page that holds anything; rows with their line, the first being 1.

    Raises:
        Refusal: when the workbook is broken, locked or empty.
    """
    _refuse_bombs(data)
    pages = _filled_pages(data)
    if not pages:
        raise Refusal("This workbook is empty.")
    return [
        (name, [(line, [cell_text(cell) for cell in row]) for line, row in enumerate(rows, 1)])
        for name, rows in pages
    ]


def _filled_pages(data: bytes) -> list[tuple[str, list[list[Any]]]]:
    from python_calamine import CalamineError, CalamineWorkbook

    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(data))
        pages = [
            (name, book.get_sheet_by_name(name).to_python(skip_empty_area=False))
            for name in book.sheet_names
        ]
    except (CalamineError, ValueError, OSError) as fault:
        raise Refusal(_NO_WORKBOOK.format(fault)) from None
    except BaseException as fault:
        # the reader's own panics are no Exception
        if type(fault).__name__ != "PanicException":
            raise
        raise Refusal(_NO_WORKBOOK.format("it is broken")) from None
    return [page for page in pages if any(cell != "" for row in page[1] for cell in row)]
