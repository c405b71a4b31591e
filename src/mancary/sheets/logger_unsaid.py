"""What a logger's file does not tell, so that the keeper is asked."""

from typing import Final, Literal

from mancary.husbandry.refusal import Refusal

What = Literal["temperature", "humidity", "unit", "order"]
WHATS: Final[tuple[What, ...]] = ("temperature", "humidity", "unit", "order")


class Unsaid(Refusal):
    """A question about a file; ``what`` it is about. Each face says how it is answered there."""

    def __init__(self, what: What, question: str) -> None:
        super().__init__(question)
        self.what = what
