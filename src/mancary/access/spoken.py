"""What the terminal says of how a phone gets in."""

import io
from collections.abc import Sequence

from mancary.access.pairing import GOOD_FOR

NO_NETWORK = (
    "This machine is in no home network now: no phone can reach it, and the pages are open on this"
    " machine alone.\n"
)


def let_in_words(
    addresses: Sequence[str], code: str, *, name_told: bool, authority_at: str = ""
) -> str:
    """The address with the code as a QR code of the terminal, and both in letters.

    ``name_told`` is whether the network knows the name the first address has; ``authority_at`` is
    where a phone learns to trust the book's own authority, which comes first.
    """
    import segno

    drawn = io.StringIO()
    at = addresses[0] if name_told or len(addresses) == 1 else addresses[1]
    text = f"{at}/PAIR/{code.replace(' ', '')}".upper()
    segno.make(text, error="m", micro=False).terminal(drawn, compact=True)
    others = "".join(f" or {one}" for one in addresses if one != at and name_told)
    minutes = int(GOOD_FOR.total_seconds() // 60)
    lines = [
        f"In the home network: {at}{others}",
        f"Pair a phone with the code {code}: for one phone, for {minutes} minutes.",
        "The page Phones at the desk shows the next one.",
    ]
    if authority_at:
        lines.insert(
            0, f"First let the phone trust this book: open {authority_at}/authority on it."
        )
    if not name_told:
        lines.append("The name could not be told to the network, so the address is in numbers.")
    return drawn.getvalue() + "\n".join(lines) + "\n"
