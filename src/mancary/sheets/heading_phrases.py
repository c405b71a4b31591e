"""Whole headings in keepers' own words, beside the shorter ones of ``heading_words``.

Common practice, no source.
"""

from typing import Final

PHRASES: Final[dict[str, str]] = {
    "box": "which tub|box name|box id|tub name|tub number|tub nr|tub code|container id|"
    "container code|bin no|bin number|enclosure no|cage",
    "species": "what lives in it|what lives there|what lives in there|lives in it|what is in it|"
    "what is inside|who lives in it|who lives there|whats in it|contents|critter|"
    "critters|woodlice|woodlouse|bug|bugs|inhabitant|lives here|bor i|vad bor i den|"
    "was lebt darin|bewohner|innevanare",
    "morph": "form|form or colour|type of colour|colouration|coloration|variety name|utseende",
    "since": "started on|begun on|in use since|running since|living since|day started|"
    "founded on|from when|startade|angesetzt am|seit wann|sedan nar|first day",
    "count": "head count|headcount|heads counted|how many animals|how many in it|"
    "number in box|animals in it|animals now|stock count|djur antal|kopfzahl|wieviele",
    "litres": "holds|how big|capacity l|box litres|litres of box|tub litres|tub volume|"
    "size in litres|rymmer|fasst",
    "shelf": "spot|slot|rack place|shelf place|place in rack|stands where|position in rack|"
    "room place|hyllplats|regalplatz|rack no|rack position|where it stands",
    "damp": "wet share|wet end share|how wet|wet side|damp floor|wet floor|damp fraction|"
    "wet fraction|moist side|fuktdel|share kept damp|share damp|vat andel",
    "vents": "air holes|holes for air|holes drilled|breathing holes|air vents|holes and mesh|"
    "vent area|lid holes",
    "protein": "protein meals a week|protein meals|protein meals per week|meals of protein|"
    "protein feeds weekly|proteins a week|proteinmal i veckan|protein mal per vecka",
    "date": "which day|what day|when was it|done when|date of work|the day",
    "amount": "how much was it|how much was given|amount given|given amount",
    "what": "did what|what did i do|done what|what i saw|work done|what was seen|"
    "seen or done|done or seen",
}
