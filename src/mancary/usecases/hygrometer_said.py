"""What is said of a hygrometer's readings that lie beyond its salt test."""

from mancary.husbandry.hygrometers import SaltLine
from mancary.husbandry.sentences import tell


def outside_said(outside: int, line: SaltLine) -> tuple[str, ...]:
    """How many readings lie beyond the test, and what is made of them; nothing where none does."""
    if not outside:
        return ()
    said = {"outside": outside, "span": span_said(line), "beyond": beyond_said(line)}
    if outside == 1:
        return (
            tell(
                "%(outside)s reading of the shelves lies beyond the test: %(span)s, %(beyond)s.",
                **said,
            ),
        )
    return (
        tell(
            "%(outside)s readings of the shelves lie beyond the test: %(span)s, %(beyond)s.",
            **said,
        ),
    )


def span_said(line: SaltLine) -> str:
    """Between which humidities it was tested."""
    low, high = line.line.lowest_reading * 100, line.line.highest_reading * 100
    span = f"{low:.0f}" if low == high else tell("%(low).0f to %(high).0f", low=low, high=high)
    return tell("only %(span)s %% was tested", span=span)


def beyond_said(line: SaltLine) -> str:
    """What is made of a reading outside of that."""
    if line.line.slope_assumed:
        return tell("so elsewhere it is taken to be as far off as there (assumed): trust it less")
    return tell(
        "so beyond that it is taken to be as far off as at the nearer end, and the range reaches"
        " to the line carried on (extrapolated): trust it less"
    )
