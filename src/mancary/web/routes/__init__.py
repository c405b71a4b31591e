"""One module for each part of the book that has an address."""

from mancary.web.routes.boxes import box_page, boxes_page, note_in_box
from mancary.web.routes.check import check_page
from mancary.web.routes.facts import correct_fact, fact_page, withdraw_fact
from mancary.web.routes.home import home_page
from mancary.web.routes.new_box import name_box, new_box_page
from mancary.web.routes.species import finder_page, open_own_page, species_sheet
from mancary.web.routes.take_in import (
    choose_page,
    choose_sheet,
    mend_sheet,
    sheet_page,
    taken_page,
)
from mancary.web.routes.twins import TWINS

ROUTES = (
    home_page,
    boxes_page,
    box_page,
    note_in_box,
    fact_page,
    withdraw_fact,
    correct_fact,
    new_box_page,
    name_box,
    finder_page,
    open_own_page,
    species_sheet,
    choose_page,
    choose_sheet,
    sheet_page,
    mend_sheet,
    taken_page,
    check_page,
    TWINS,
)
