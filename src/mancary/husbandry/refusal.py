"""A refusal is a sentence the keeper can act on."""

from mancary.husbandry.sentences import Told, in_a_row, tell


class Refusal(Exception):
    """Something the book will not take; the message is shown to the keeper as it is."""


class UnknownSubject(Refusal):
    """A box, colony, line, shelf or batch that is not in the book."""

    def __init__(self, what: str, code: str, *, near: tuple[str, ...] = ()) -> None:
        hint = tell(" Did you mean %(all)s?", all=in_a_row(tell(" or "), near)) if near else ""
        super().__init__(
            tell(
                "There is no %(what)s %(code)s in this book.%(hint)s",
                what=Told(what, {}),
                code=code,
                hint=hint,
            )
        )
        self.what = what
        self.code = code
