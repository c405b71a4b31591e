"""Who may open the pages: the desk, paired phones, and a stand-in for a time."""

from mancary.access.doorkeeper import Doorkeeper
from mancary.access.kept import Access, Pass, Phone
from mancary.access.roles import NOBODY, Role, Who

__all__ = ["NOBODY", "Access", "Doorkeeper", "Pass", "Phone", "Role", "Who"]
