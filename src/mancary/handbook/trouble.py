"""What the handbook cannot answer, as a sentence."""


class HandbookTrouble(Exception):
    """The base of all trouble with the handbook."""


class PageFault(HandbookTrouble):
    """A page that may not be loaded: a field is missing, unknown or contradicts another."""

    def __init__(self, page: str, field: str, why: str) -> None:
        super().__init__(f"{page}: {field}: {why}")
        self.page = page
        self.field = field


class UnknownPage(HandbookTrouble, LookupError):
    """No page or care group has this plain name."""

    def __init__(self, slug: str, what: str = "page") -> None:
        super().__init__(f"The handbook has no {what} {slug!r}.")
        self.slug = slug
