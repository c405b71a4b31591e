"""A refusal is a sentence the keeper can act on."""


class Refusal(Exception):
    """Something the book will not take; the message is shown to the keeper as it is."""


class UnknownSubject(Refusal):
    """A box, colony, line, shelf or batch that is not in the book."""

    def __init__(self, what: str, code: str, *, near: tuple[str, ...] = ()) -> None:
        hint = f" Did you mean {' or '.join(near)}?" if near else ""
        super().__init__(f"There is no {what} {code} in this book.{hint}")
        self.what = what
        self.code = code
