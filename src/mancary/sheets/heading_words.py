"""The words keepers head their columns with, in English, Swedish and German.

Common practice, no source. A heading may hold a unit in brackets; see ``split_unit``.
"""

import re
from functools import cache, lru_cache
from typing import Final

from mancary.sheets.heading_phrases import PHRASES
from mancary.sheets.plain import bare_words, plain

ROLES: Final[dict[str, str]] = {
    "box": "the box's code",
    "species": "species or trade name",
    "morph": "morph or colour",
    "since": "since when",
    "count": "how many",
    "litres": "volume",
    "size": "length, width, height",
    "length": "length",
    "width": "width",
    "height": "height",
    "shelf": "shelf",
    "position": "position on the shelf",
    "damp": "damp part of the floor",
    "vents": "holes and mesh",
    "protein": "protein feeds a week",
    "source": "where it came from",
    "locality": "locality",
    "date": "day",
    "what": "what was done or seen",
    "amount": "how much",
    "unit": "unit of the amount",
    "remarks": "remarks",
    "note": "kept as a note",
    "ignore": "left out",
}

_HEADINGS: Final[dict[str, str]] = {
    "box": "box|box no|box nr|box number|box id|box code|code|tub|tub no|container|container no|"
    "bin|"
    "enclosure|tank|no|nr|number|id|label|home|lada|lada nr|lador|burk|kod|nummer|behallare|dose|"
    "dosen nr|box nummer|behalter|kiste|becken|tub id|which box|boxes|bax|culture no|colony no",
    "species": "species|name|what species|kind|isopod|isopods|animal|animals|latin|latin name|"
    "scientific name|scientific|taxon|form|art|arter|artnamn|djur|latinskt namn|tier|tiere|"
    "tierart|artname|species name|trade name|sort|stock|inhabitants|occupant|occupants",
    "morph": "morph|colour|color|morph colour|variety|form colour|phase|pattern|line|strain|farg|"
    "fargform|morf|variant|linje|farbe|farbform|farbschlag|zuchtform|linie|colour form|color form",
    "since": "since|founded|start|started|start date|set up|setup|set up on|begun|from|"
    "date founded|"
    "founding date|acquired|got|bought|arrived|date acquired|since when|date|sedan|startad|"
    "start datum|"
    "startdatum|grundad|kopt|inkopt|datum|seit|gegrundet|angesetzt|gekauft|ansatz|beginn|"
    "established",
    "count": "how many|count|number of animals|quantity|qty|animals count|population|pop|"
    "size of group|"
    "head|heads|n|number|group size|individuals|ind|antal|antal djur|hur manga|bestand|anzahl|"
    "wie viele|stuckzahl|menge|approx number|estimate|estimated number|amount of animals|"
    "how many now",
    "litres": "litres|liters|litre|liter|l|volume|vol|size|box size|capacity|tub size|volym|"
    "storlek|"
    "volumen|inhalt|grosse|box volume|ml|volume l|litre size",
    "size": "dimensions|size|box size|storlek|grosse|measures|size cm|l x w x h|lxwxh|l x b x h|"
    "lxbxh|matt|masse|abmessungen|"
    "footprint|box dimensions",
    "length": "length|langd|lange|box length",
    "width": "width|bredd|breite|box width",
    "height": "height|hojd|hohe|box height",
    "shelf": "shelf|rack|row|place|where|location|stands on|shelf no|rack shelf|hylla|plats|"
    "hyllplan|"
    "regal|fach|standort|platz|regalfach|tier level|shelf code",
    "position": "position|pos|slot|spot|turn on shelf|place on shelf|stelle|ordning",
    "damp": "damp part|damp|damp share|damp end|moist|moist part|moist share|wet part|wet|moisture|"
    "wet share|humid part|humid|damp percent|damp side|fuktig del|fukt|fuktig|fuktandel|vat del|"
    "feucht|feuchter teil|feuchtanteil|feuchte|nass|moist end|damp area|moist area|wet end",
    "vents": "holes|vents|ventilation|vent|air|air holes|airholes|vent holes|mesh|hal|ventiler|"
    "lufthal|"
    "ventilationshal|locher|luftlocher|luftung|luftloch|beluftung|drilled|vents drilled",
    "protein": "protein wk|protein week|protein a week|protein per week|protein feeds|"
    "protein feeds per week|"
    "protein weekly|protein|protein times|protein x wk|proteins per week|protein vecka|"
    "protein per vecka|protein i veckan|protein woche|protein pro woche|eiweiss woche|"
    "eiweiss pro woche|"
    "protein gaben|protein feeds a week|protein times a week",
    "source": "source|supplier|from whom|bought from|origin|seller|kalla|ursprung|leverantor|"
    "quelle|"
    "herkunft|zuchter|got from",
    "locality": "locality|site|collected at|locale|lokal|fyndplats|fundort|collecting site",
    "date": "date|day|when|on|done on|date done|datum|dag|nar|tag|wann|am|date seen|day done|"
    "logged",
    "what": "what|what done|what was done|task|work|action|activity|done|event|care|job|entry|"
    "observation|type|vad|gjort|atgard|handelse|syssla|skotsel|was|arbeit|tatigkeit|aktion|pflege|"
    "ereignis|gemacht|what happened|what i did|did|given|seen",
    "amount": "amount|how much|quantity|qty|dose|value|number|portion|mangd|hur mycket|varde|menge|"
    "wieviel|wie viel|wert|how many|antal|anzahl|reading|measure",
    "unit": "unit|units|enhet|einheit",
    "remarks": "remarks|remark|notes|note|comment|comments|memo|observations|misc|other|anmarkning|"
    "anmarkningar|kommentar|kommentarer|anteckning|anteckningar|noteringar|ovrigt|bemerkung|"
    "bemerkungen|"
    "notiz|notizen|kommentare|anmerkung|anmerkungen|sonstiges|words|seen after|to remember|info",
}

_UNIT_IN_BRACKETS = re.compile(r"^(.*?)\s*[\(\[]\s*([^\)\]]+?)\s*[\)\]]\s*$")
_UNIT_AFTER = re.compile(r"^(.+?)[\s_,/]+(?:in\s+)?(ml|cl|dl|l|litres?|liters?|g|kg|mg|cm|mm|%)$")


@lru_cache(maxsize=4096)
def split_unit(heading: str) -> tuple[str, str]:
    """The heading's words and its unit: "Volume (L)" is ("volume", "l"), "Box" is ("box", "")."""
    text = plain(heading)
    if told := _UNIT_IN_BRACKETS.match(text):
        return bare_words(told.group(1)), told.group(2)
    if (told := _UNIT_AFTER.match(text)) and bare_words(text) not in _known():
        return bare_words(told.group(1)), told.group(2)
    return bare_words(text), ""


@cache
def _known() -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for role, words in _HEADINGS.items():
        for word in (*words.split("|"), *PHRASES.get(role, "").split("|")):
            if word and role not in found.setdefault(word, []):
                found[word].append(role)
    return {word: tuple(roles) for word, roles in found.items()}


def known_headings() -> dict[str, tuple[str, ...]]:
    """Each known heading, plain, with the roles it can stand for."""
    return _known()


def is_heading_word(cell: str) -> bool:
    """True where a cell's text is one that heads a column."""
    return split_unit(cell)[0] in _known()
