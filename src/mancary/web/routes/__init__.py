"""One module for each part of the book that has an address."""

from mancary.web.routes.authority import authority_file, authority_page
from mancary.web.routes.away import away_page
from mancary.web.routes.boxes import box_page, note_in_box
from mancary.web.routes.check import check_page
from mancary.web.routes.colony import colony_page, count_colony
from mancary.web.routes.facts import correct_fact, fact_page, withdraw_fact
from mancary.web.routes.figures import choose_for_box, choose_for_species
from mancary.web.routes.hygrometer import check_hygrometer_page, hygrometer_page
from mancary.web.routes.label_reading import read_label, read_label_page
from mancary.web.routes.labels import box_of_label, labels_page, labels_sheet
from mancary.web.routes.logger import logger_page, take_logger, undo_logger
from mancary.web.routes.new_box import name_box, new_box_page
from mancary.web.routes.offline import fresh, manifest, worker
from mancary.web.routes.pairing import leave, pair, pair_page
from mancary.web.routes.phones import change_phones, phones_page
from mancary.web.routes.pictures import picture_file, take_picture
from mancary.web.routes.reading import choose_reading, reading_page
from mancary.web.routes.register import boxes_csv, boxes_page
from mancary.web.routes.rhythms import choose_rhythms, rhythms_page, undo_rhythms
from mancary.web.routes.round import keep_round, round_done, round_page, undo_round
from mancary.web.routes.shelves import read_shelves, shelves_page
from mancary.web.routes.species import finder_page, open_own_page, species_sheet
from mancary.web.routes.stand_in import open_pass, stand_in_done, stand_in_page
from mancary.web.routes.static import static_file
from mancary.web.routes.take_in import (
    choose_page,
    choose_sheet,
    mend_sheet,
    sheet_page,
    taken_page,
)
from mancary.web.routes.ticks import ticks_page, type_ticks, undo_ticks
from mancary.web.routes.twins import TWINS
from mancary.web.routes.vents import vents_page
from mancary.web.routes.wants import wants_page
from mancary.web.routes.watch import watch_page
from mancary.web.routes.work import work_done, work_page

ROUTES = (
    static_file,
    away_page,
    wants_page,
    round_page,
    round_done,
    keep_round,
    undo_round,
    ticks_page,
    type_ticks,
    undo_ticks,
    rhythms_page,
    choose_rhythms,
    undo_rhythms,
    boxes_page,
    boxes_csv,
    box_page,
    box_of_label,
    labels_page,
    read_label_page,
    read_label,
    labels_sheet,
    note_in_box,
    work_page,
    work_done,
    watch_page,
    colony_page,
    count_colony,
    choose_for_box,
    choose_for_species,
    shelves_page,
    read_shelves,
    logger_page,
    take_logger,
    undo_logger,
    hygrometer_page,
    check_hygrometer_page,
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
    worker,
    fresh,
    picture_file,
    take_picture,
    reading_page,
    choose_reading,
    manifest,
    phones_page,
    change_phones,
    pair_page,
    pair,
    authority_page,
    authority_file,
    leave,
    open_pass,
    stand_in_page,
    stand_in_done,
    check_page,
    vents_page,
    TWINS,
)
