"""Numbers as people write them, with a decimal comma or point, thousands apart or not."""

import re
from collections.abc import Iterable

from mancary.sheets.faults import Choice, Unclear, Unreadable

NUMBER = r"(?:\d{1,3}(?:[ \u00a0\u202f'’]\d{3})+(?:[.,]\d+)?|\d+(?:[.,]\d+)*|[.,]\d+)"
_ONE_SEPARATOR = re.compile(r"^(\d*)([.,])(\d+)$")
_SURE_DECIMAL = re.compile(r"(?<![\d.,])(?:\d+([.,])(?:\d{1,2}|\d{4,})|0([.,])\d{3})(?![\d.,])")
_SPACES = re.compile(r"[ \u00a0\u202f'’]")
_MANY_TO_ONE = 5


def decimal_sign(cells: Iterable[str]) -> str | None:
    """The sign, comma or point, of cells in which only one can be meant; None if none tells."""
    counts = {",": 0, ".": 0}
    for cell in cells:
        for found in _SURE_DECIMAL.finditer(cell):
            counts[found.group(1) or found.group(2)] += 1
    likely = max(counts, key=lambda sign: counts[sign])
    other = min(counts.values())
    return likely if counts[likely] > _MANY_TO_ONE * other else None


def number(text: str, decimal: str | None) -> float:
    """The value of a number's text.

    Raises:
        Unclear: where "1,455" may be 1.455 or 1455 and ``decimal`` is not known.
        Unreadable: where it is no number.
    """
    bare = _SPACES.sub("", text.strip())
    if single := _ONE_SEPARATOR.match(bare):
        whole, sign, decimals = single.groups()
        if len(decimals) != 3 or whole in ("", "0") or len(whole) > 3 or decimal == sign:
            return float(f"{whole or '0'}.{decimals}")
        if decimal is None:
            raise _either(f"{whole}.{decimals}", sign, whole + decimals)
        return float(whole + decimals)
    return _grouped(bare)


def _either(small: str, sign: str, large: str) -> Unclear:
    word = "comma" if sign == "," else "point"
    return Unclear(
        f"the {word} may mark decimals or thousands, and the rest of the sheet does not tell",
        (
            Choice(value="decimals", words=f"it marks decimals: {float(small):g}", likelihood=0.5),
            Choice(value="thousands", words=f"it marks thousands: {large}", likelihood=0.5),
        ),
        key=f"numbers:{sign}",
    )


def _grouped(bare: str) -> float:
    """A number without separators, or with several: the last of two sorts marks the decimals."""
    signs = [letter for letter in bare if letter in ".,"]
    if len(set(signs)) == 2 and signs.count(signs[-1]) == 1:
        whole, _, decimals = bare.rpartition(signs[-1])
        bare = f"{re.sub('[.,]', '', whole)}.{decimals}"
    elif len(signs) > 1 and re.fullmatch(r"\d{1,3}(?:[.,]\d{3})+", bare):
        bare = re.sub("[.,]", "", bare)
    try:
        return float(bare)
    except ValueError:
        raise Unreadable(f"expected a number, not {bare!r}") from None
