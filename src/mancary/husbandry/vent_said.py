"""Ranges of the bench in words, for every face alike."""

from mancary.husbandry.sentences import tell


def span_said(low: float, high: float) -> str:
    """Two significant figures either end: "0.48 to 1.1", "24 to 53", "110 to 260"."""
    return tell("%(low)s to %(high)s", low=_two(low), high=_two(high))


def share_said(low: float, high: float) -> str:
    """Shares of 0..1 as whole percent, without the sign: "88 to 94", or "95" where both are it."""
    first, last = round(low * 100), round(high * 100)
    return f"{first}" if first == last else tell("%(first)s to %(last)s", first=first, last=last)


def _two(number: float) -> str:
    return f"{float(f'{number:.2g}'):g}"
