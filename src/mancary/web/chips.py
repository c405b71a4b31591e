"""Words to mark on the round: as a macro they took five times as long, and there are 2,000."""

from collections.abc import Container, Iterable

from markupsafe import Markup, escape


def chips(
    marked: Container[tuple[str, str]], name: str, words: Iterable[tuple[object, str]]
) -> Markup:
    """A box to tick for each value and its words; ticked where ``marked`` has name and value."""
    made = [
        f'<label><input type="checkbox" name="{escape(name)}" value="{escape(value)}"'
        f"{' checked' if (name, str(value)) in marked else ''}><span>{escape(said)}</span></label>"
        for value, said in words
    ]
    return Markup("".join(made))  # noqa: S704  all that is put in is escaped
