"""How sure each way of finding a name is. All of it is ours: judged, not measured.

Where several pages answer in the same way, they share its confidence.

A misspelling: every page is weighed by ``PER_EDIT`` for each edit (a letter wrong, missing, added,
or two swapped) between what was typed and its name. "Another name, that the handbook does not hold"
is weighed by ``PER_EDIT`` to the power of one edit, and one more for each ``LETTERS_AN_EDIT``
letters that tell the page from its genus, or of the whole name where the rest beside the genus is
spelt right. A page's confidence is its share of all weights, times ``MISSPELT``. So it falls with
each edit, falls as the runner-up comes nearer, and is lower for short names.
"""

from typing import Final

EXACT: Final = 1.0
"""The page's own name, whatever the case, spaces, quotes, brackets and "sp."."""

TRADE_NAME: Final = 0.97
"""A trade name, or a spelling known to be about: a seller may use it for something else."""

FORMER_NAME: Final = 0.95
"""A former name: not every form that bore it has moved."""

ABBREVIATION: Final = 0.95
"""A shortened genus, "P. dilatatus": a species that the handbook does not hold may be meant."""

BARE_EPITHET: Final = 0.93
"""The second half of a name alone, "laevis"."""

OTHER_GENUS: Final = 0.85
"""A trade name beside another genus of its family: the genus of a trade form is often a habit."""

UNEXPLAINED: Final = 0.9
"""A factor: words stand beside a species' name that its page does not know."""

UNEXPLAINED_FORM: Final = 0.6
"""The same beside an undescribed form: a longer trade name is often another form."""

UNSURE: Final = 0.75
"""A factor: the keeper wrote "cf." or "aff." himself."""

MISSPELT: Final = 0.95
PER_EDIT: Final = 0.05
LETTERS_AN_EDIT: Final = 5

LEAST: Final = 0.05
"""A misspelling less sure than this is not worth reading."""

MORPH_SURE: Final = 0.8
"""From here on a misspelt colour beside a name is taken for the page's colour."""

SHORTEST: Final = 5
"""Letters a trade name or the second half of a name needs to be looked for alone."""
