"""The words keepers write for work done and things seen, in English, Swedish and German.

Common practice, no source: the words of the trade, and plain translations of them.
"""

from functools import cache
from typing import Final, Literal

from msgspec import Struct

from mancary.husbandry.words import said
from mancary.sheets.plain import bare_words

Kind = Literal["care", "seen", "count", "weigh", "taken", "note"]


class Telling(Struct, frozen=True, kw_only=True):
    """What a text tells: a kind of fact, the book's word for it, and which food where it says so.

    For animals taken the word is what for: "sale", "swap", "gift" or nothing. ``share`` is the
    part left over, 0 to 1, where the text says it.
    """

    kind: Kind
    word: str = ""
    what: str = ""
    share: float | None = None


_CARE: Final[dict[str, str]] = {
    "look": "look|looked|checked|check|visit|visited|glance|seen to|koll|kollad|kollade|tittade|"
    "tillsyn|"
    "kontrolle|kontrolliert|geschaut|nachgeschaut|all fine|fine|ok",
    "mist": "mist|misted|misting|spray|sprayed|spraying|water|watered|watering|wetted|wet down|"
    "poured|"
    "pour|poured water|sprayade|sprayad|duschade|vatten|vattnade|vattnad|vattnat|fuktade|fuktad|"
    "fuktat|"
    "bespruht|gespruht|spruhen|wasser|gewassert|befeuchtet|gegossen|wet the damp end",
    "vegetable": "veg|vegs|veggie|veggies|vegetable|vegetables|greens|fresh food|gronsak|"
    "gronsaker|gront|"
    "gemuse|grunfutter|frischfutter",
    "protein": "protein|proteins|protein feed|proteinfoder|eiweiss",
    "algae": "algae|alga|algae powder|spirulina|chlorella|alger|algpulver|algen|algenpulver|"
    "seaweed|kelp",
    "calcium": "calcium|calcium powder|cuttlebone|cuttlefish|sepia|chalk|eggshell|eggshells|"
    "limestone|kalcium|"
    "kalk|kalkpulver|krita|aggskal|kalzium|calciumpulver|sepiaschale|kreide|eierschale|eierschalen",
    "minerals": "minerals|mineral|reptile minerals|multi minerals|multiminerals|vitamins|mineraler|"
    "multimineraler|vitaminer|mineralien|mineralstoffe|vitamine|mineral powder",
    "leaf_litter": "leaves|leaf|leaf litter|litter|oak leaves|beech leaves|top up leaves|"
    "leaves topped up|"
    "leaf top up|lov|lovforna|forna|ekblad|bokblad|blad|laub|blatter|eichenlaub|buchenlaub|"
    "falllaub|dead leaves",
    "wood": "wood|rotten wood|rotted wood|white rot wood|bark|lichen|lichen twigs|twigs|cork|ved|"
    "vitrota|"
    "murken ved|lav|lavgrenar|kvistar|holz|weissfaules holz|rinde|flechten|flechtenzweige|zweige|"
    "kork",
    "springtails": "springtails added|springtails|added springtails|springtails seeded|"
    "seeded springtails|"
    "springtails in|new springtails|hoppstjartar|hoppstjartar tillsatta|springschwanze|"
    "springschwanze zugegeben|springtail culture added|springtails given",
    "springtail_check": "springtail check|springtails checked|checked springtails|hoppstjartskoll|"
    "springschwanze gepruft|springtails ok",
    "substrate_half": "half change|substrate half|half substrate|half substrate change|"
    "half change of substrate|"
    "halvt substratbyte|halvbyte|halber wechsel|halber substratwechsel|teilwechsel|"
    "half the substrate",
    "substrate_whole": "full change|whole change|substrate change|substrate changed|new substrate|"
    "full substrate change|whole change of substrate|substratbyte|nytt substrat|bytte substrat|"
    "substratwechsel|neues substrat|substrate whole|substrate",
    "leftovers_out": "leftovers out|leftover out|took leftovers out|leftovers taken out|"
    "removed leftovers|"
    "leftovers removed|food removed|rester ut|tog ut rester|reste entfernt|futterreste entfernt|"
    "old food out",
    "label_check": "label check|labels checked|labels|etikettkoll|etiketter|etiketten gepruft|"
    "etiketten",
}

_FOODS: Final[str] = (
    "cucumber|carrot|courgette|zucchini|pumpkin|squash|potato|sweet potato|lettuce|mushroom|"
    "mushrooms|apple|"
    "pear|banana|pea|peas|spinach|kale|pepper|melon|beetroot|turnip|swede|broccoli|dandelion|"
    "nettle|nettles|"
    "gurka|morot|squash|pumpa|potatis|sotpotatis|sallad|svamp|apple|paron|arta|arter|spenat|"
    "gronkal|kalrot|"
    "gurke|karotte|mohre|kurbis|kartoffel|susskartoffel|salat|pilz|pilze|apfel|birne|erbse|"
    "erbsen|spinat"
)

_PROTEINS: Final[str] = (
    "fish|fish food|fish flake|fish flakes|dried fish|shrimp|shrimps|dried shrimp|dried shrimps|"
    "gammarus|insects|dried insect|dried insects|mealworm|mealworms|yeast|fisk|fiskfoder|"
    "fiskflingor|torkade rakor|rakor|jast|fisch|fischfutter|flockenfutter|garnelen|bachflohkrebse|"
    "hefe"
)

_TAKEN: Final[dict[str, str]] = {
    "sale": "sold|sale|sold some|salda|sald|salde|verkauft",
    "swap": "swapped|swap|traded|trade|bytte|bytta|bytt|getauscht",
    "gift": "gave away|given away|gift|gifted|gav bort|skankte|verschenkt|abgegeben",
    "": "taken|taken out|took out|animals taken|thinned|harvested|gallrade|entnommen",
}
"""Animals that left the colony, by what for."""

_SEEN: Final[dict[str, str]] = {
    "young_seen": "young seen|young|saw young|babies|babies seen|mancas|mancas seen|manca|"
    "manca seen|mancae|"
    "juveniles|juveniles seen|offspring|brood|brood seen|ungar|ungar sedda|ungar syns|sett ungar|"
    "yngel|"
    "jungtiere|jungtiere gesehen|nachwuchs|nachwuchs gesehen|new young|young ones",
    "none_seen": "none seen|nothing seen|no animals seen|inga sedda|inga djur syns|keine gesehen|"
    "keine tiere gesehen|saw none|none to be seen",
    "gravid": "gravid|gravid seen|gravid females|gravid female|carrying|carrying eggs|pregnant|"
    "with eggs|"
    "draktig|draktiga|aggbarande|tragend|trachtig|tragende weibchen|brood pouch seen|berried",
    "dead": "dead|died|deaths|death|dead found|found dead|dead animals|losses|loss|doda|dod|dog|"
    "tot|tote|"
    "gestorben|verluste|tote tiere|doda djur|corpse|corpses",
    "left_over": "left over|leftovers|leftover|food left|some left|left some|not eaten|"
    "not all eaten|uneaten|"
    "mat kvar|rester|kvar|nicht gefressen|reste|ubrig|noch da",
    "all_gone": "all gone|all eaten|eaten|eaten up|gone|finished|cleared|nothing left|"
    "allt uppatet|uppatet|"
    "slut|allt slut|alles gefressen|aufgefressen|alles weg|leer gefressen|ate all|all finished",
    "stuck_moult": "stuck moult|stuck in moult|bad moult|moult trouble|stuck molt|bad molt|"
    "molt trouble|"
    "fastnat i omsning|hudomsning problem|hautungsproblem|hautungsprobleme",
    "violet_sheen": "violet sheen|blue sheen|purple sheen|violet shine|blue shine|blue disease|"
    "iridovirus|"
    "violett skimmer|blaviolett|violetter schimmer|blauer schimmer",
    "on_the_walls": "on the walls|on walls|on the wall|climbing walls|up the walls|on the lid|"
    "climbing|"
    "pa vaggarna|pa locket|an den wanden|an der wand|am deckel",
    "escaped": "escaped|escape|escapees|on the run|out of the box|rymt|rymde|rymning|entkommen|"
    "ausgebrochen",
    "mould": "mould|mold|mouldy|moldy|mould seen|mold seen|fungus|mogel|mogligt|mogel sedd|"
    "schimmel|"
    "verschimmelt|schimmel gesehen|mould bloom|mold bloom",
    "mites": "mites|mite|mites seen|grain mites|mite bloom|kvalster|kvalster sedda|milben|"
    "milben gesehen",
    "gnats": "gnats|gnat|fungus gnats|flies|phorids|fruit flies|sorgmyggor|flugor|trauermucken|"
    "fliegen|"
    "mucken|gnats seen",
    "ants": "ants|ant|ants seen|myror|ameisen",
    "smells": "smells|smell|smelly|smelled|smelt|stinks|sour smell|bad smell|luktar|lukt|"
    "luktar illa|stinker|"
    "riecht|stinkt|geruch|smells bad|smells sour",
    "dry": "dry|too dry|dried out|very dry|torr|torrt|for torrt|uttorkad|trocken|zu trocken|"
    "ausgetrocknet",
    "wet": "wet|too wet|very wet|soaked|soggy|vat|blott|for blott|for vat|nass|zu nass|feucht|"
    "zu feucht",
    "springtails_many": "many springtails|springtails many|lots of springtails|manga hoppstjartar|"
    "viele springschwanze",
    "springtails_few": "few springtails|springtails few|fa hoppstjartar|wenige springschwanze|"
    "few springtails left",
    "springtails_gone": "springtails gone|no springtails|springtails dead|inga hoppstjartar|"
    "keine springschwanze|hoppstjartar borta",
}

_OTHER: Final[dict[Kind, str]] = {
    "count": "count|counted|counting|number|head count|headcount|census|estimate|estimated|"
    "rakning|raknade|"
    "raknat|raknad|antal|zahlung|gezahlt|bestand|anzahl|animals counted|raknade djur",
    "weigh": "weighed|weight|weigh|weighing|scale|box weight|vagd|vagde|vikt|vagning|vagt|"
    "gewogen|gewicht|"
    "wiegen|wagung",
    "note": "note|noted|remark|comment|anteckning|notering|notiz|bemerkung|other|ovrigt|sonstiges",
}


@cache
def tellings() -> dict[str, Telling]:
    """Each known phrase, plain, with what it tells."""
    found: dict[str, Telling] = {}
    for kind, words in _OTHER.items():
        found.update({phrase: Telling(kind=kind, word=kind) for phrase in words.split("|")})
    for word, words in _SEEN.items():
        phrases = (bare_words(said(word)), *words.split("|"))
        found.update({phrase: Telling(kind="seen", word=word) for phrase in phrases})
    for food in _FOODS.split("|"):
        found[food] = Telling(kind="care", word="vegetable", what=food)
    for food in _PROTEINS.split("|"):
        found[food] = Telling(kind="care", word="protein", what=food)
    for purpose, words in _TAKEN.items():
        found.update({p: Telling(kind="taken", word=purpose) for p in words.split("|")})
    for word, words in _CARE.items():
        phrases = (bare_words(said(word)), *words.split("|"))
        found.update({phrase: Telling(kind="care", word=word) for phrase in phrases})
    return found


def telling_of(text: str) -> Telling | None:
    """What a phrase tells when it is known word for word."""
    return tellings().get(bare_words(text))
