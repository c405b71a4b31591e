"""Words that tell nothing by themselves, and those that tell of more than one box.

Common practice, no source.
"""

from typing import Final

_FILLER: Final = (
    "a|add|added|again|an|bit|box|done|etwas|fed|feed|feeding|fick|fresh|frische|futter|"
    "gav|gave|gefuttert|gegeben|give|given|got|in|lite|mat|matade|med|mit|more|neue|new|"
    "ny|nya|och|of|piece|pieces|put|slice|slices|some|the|tillsatt|tillsatte|today|with|"
    "zugegeben"
)
FILLER: Final = frozenset(_FILLER.split("|"))
"""Left aside when a phrase is looked up."""

_NOT: Final = "ej|inga|ingen|inte|kein|keine|never|nicht|no|not|ohne|utan|without"
NOT: Final = frozenset(_NOT.split("|"))
"""Words that deny."""

_FED: Final = (
    "fed|fed all|fed them|feed|feeding|food|food given|futter|gave food|gefuttert|"
    "gefuttert alle|mat|matad|matade"
)
FED: Final = frozenset(_FED.split("|"))
"""That something was fed, and not what."""

_COLONY_WORK: Final = (
    "delad|delade|ended|extinct|flyttad|flyttade|founded|geteilt|join|joined|merged|move|"
    "moved|rehoused|split|stepped|transferred|umgesetzt|umgezogen"
)
COLONY_WORK: Final = frozenset(_COLONY_WORK.split("|"))
"""Work on whole colonies, which has commands of its own."""

_COLONY_ENDS: Final = (
    "all dead|all died|ausgestorben|colony dead|colony died|colony ended|crash|crashed|died off|"
    "died out|dog ut|dott ut|extinct|new box|new tub|stepped up|step up"
)
COLONY_PHRASES: Final = frozenset(_COLONY_ENDS.split("|"))
"""Ends and moves of whole colonies, in more than one word."""

_VAGUE: Final = "loads|loads of|lots|lots of|many|masses|plenty|plenty of|several|tons"
VAGUE: Final = frozenset(_VAGUE.split("|"))
"""Many, without a number."""
