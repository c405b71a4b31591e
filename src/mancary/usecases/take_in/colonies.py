"""Whether a row of a box list founds a colony, tells of the one that lives there, or is asked."""

from datetime import date, tzinfo

from msgspec import Struct

from mancary.husbandry.entries import derived_id
from mancary.husbandry.facts import Ended, Fact, Founded
from mancary.husbandry.moments import Moment, first_day, on_day, order_key
from mancary.sheets.box_rows import BoxRow
from mancary.sheets.cells import Cells
from mancary.sheets.plain import plain
from mancary.usecases.take_in import colony_questions as questions
from mancary.usecases.take_in.known import Known
from mancary.usecases.take_in.living import Stay
from mancary.usecases.take_in.names import WILD, Form

_NOT_SAID_SINCE = "the sheet does not say since when; here by this day"
_REPLACED = "a sheet tells of another colony in this box"


class Plan(Struct, frozen=True, kw_only=True):
    """What a row does to the colonies of its box: facts with id and day, and whether it counts."""

    facts: tuple[tuple[str, Fact, Moment], ...] = ()
    founded: Founded | None = None
    since: Moment = ""
    ended: Stay | None = None
    counted: bool = True


class Colonies:
    """Plans row after row; ``learn`` takes over what a planned row adds."""

    def __init__(self, known: Known, *, as_of: date, zone: tzinfo, names_lives: bool) -> None:
        self._known, self._living = known, known.living
        self._as_of, self._zone = as_of, zone
        self._names_lives = names_lives

    def plan(self, cells: Cells, told: BoxRow, form: Form | None, *, news: bool) -> Plan | None:
        """What the row does to its box's colonies; None where it is asked about or refused.

        ``news`` is False where the book has all else that the row tells.
        """
        if form is None:
            return self._nameless(cells, told, news=news)
        if self._began_too_late(cells, told):
            return None
        fact_id = self._founded_id(told, form)
        if founded := self._known.founded.get(fact_id):
            return self._told_before(cells, told, founded, form, news=news)
        stay = self._living.now(told.box)
        if stay:
            return self._beside(cells, told, form, stay, news=news)
        if (
            self._living.retired(told.box)
            or self._living.last(told.box)
            or self._withdrawn(fact_id)
        ):
            return self._emptied(cells, told, form)
        return self._begun(told, form)

    def learn(self, plan: Plan) -> None:
        """Takes over the colony that a row founds, and the one that it ends."""
        if plan.ended:
            self._living.end(plan.ended, plan.since)
        if plan.founded:
            one = plan.founded
            self._known.colonies.add(one.colony)
            self._living.begin(one.colony, one.box, one.line, plan.since)

    def _nameless(self, cells: Cells, told: BoxRow, *, news: bool) -> Plan | None:
        key = f"nobody:{told.box}" if self._names_lives else "nobody"
        if self._living.now(told.box):
            return Plan()
        if not (told.count and news):
            cells.ground.mends.get(key)  # answered when it was new
            return Plan()
        why = f"the book has no colony in {told.box} that could be counted"
        alone = cells.settle("count", key, why, questions.nobody())
        return Plan(counted=False) if alone else None

    def _began_too_late(self, cells: Cells, told: BoxRow) -> bool:
        if not told.since or first_day(told.since, self._zone) <= self._as_of:
            return False
        cells.refuse(
            "since",
            f"this colony began after {self._as_of.isoformat()}, the day the figures of the sheet"
            " are said to be from",
        )
        return True

    def _told_before(
        self, cells: Cells, told: BoxRow, founded: Founded, form: Form, *, news: bool
    ) -> Plan | None:
        """A sheet founded this colony; what is new of it is asked about where it lives no more."""
        stay = self._living.now(told.box)
        cells.ground.mends.get(self._key(told, form))
        if not news or (stay and stay.colony == founded.colony):
            return Plan()
        if stay:
            return self._beside(cells, told, form, stay, news=news)
        return self._emptied(cells, told, form)

    def _beside(
        self, cells: Cells, told: BoxRow, form: Form, stay: Stay, *, news: bool
    ) -> Plan | None:
        """A colony lives in the box: the row tells of it, or of another one, or is asked."""
        kin = self._kinship(form, stay)
        same_day = self._same_day(told, stay)
        if kin == "same" and (told.since is None or same_day):
            return self._update(cells, told, stay, news=news)
        later = order_key(told.since or on_day(self._as_of), self._zone) > order_key(
            stay.came, self._zone
        )
        why, choices = questions.beside(
            self._said(stay), told.box, kin=kin, same_day=same_day, may_end=later
        )
        answer = cells.settle("species", self._key(told, form), why, choices)
        if answer == questions.KEEP:
            return self._update(cells, told, stay, news=news)
        return self._begun(told, form, ends=stay) if answer else None

    def _update(self, cells: Cells, told: BoxRow, stay: Stay, *, news: bool) -> Plan | None:
        if news and first_day(stay.came, self._zone) > self._as_of:
            cells.refuse(
                "box",
                f"colony {stay.colony} came to {told.box} on {stay.came}, after"
                f" {self._as_of.isoformat()}, the day the figures of the sheet are said to be from",
            )
            return None
        return Plan()

    def _emptied(self, cells: Cells, told: BoxRow, form: Form) -> Plan | None:
        why, choices = questions.emptied(
            told.box, self._living.last(told.box), retired=self._living.retired(told.box)
        )
        answer = cells.settle("species", self._key(told, form), why, choices)
        if answer == questions.ALONE:
            return Plan(counted=False)
        return self._begun(told, form) if answer else None

    def _begun(self, told: BoxRow, form: Form, ends: Stay | None = None) -> Plan:
        since = told.since or on_day(self._as_of)
        number = 1
        while f"{told.box}.{number}" in self._known.colonies:
            number += 1
        founded = Founded(
            colony=f"{told.box}.{number}",
            box=told.box,
            line=form.line.line,
            note=self._note(told, form),
        )
        fact_id = self._fresh_id(told, form)
        facts: tuple[tuple[str, Fact, Moment], ...] = ((fact_id, founded, since),)
        if ends:
            ended = Ended(colony=ends.colony, box=ends.box, cause="not_known", note=_REPLACED)
            facts = ((derived_id(f"sheet|ended|{ends.colony}|{fact_id}"), ended, since), *facts)
        return Plan(facts=facts, founded=founded, since=since, ended=ends)

    def _note(self, told: BoxRow, form: Form) -> str:
        line = self._known.lines.get(form.line.line, form.line)
        notes = [] if told.since else [_NOT_SAID_SINCE]
        if line.as_bought != told.name:
            notes.append(f"written as '{told.name}'")
        return "; ".join(notes)

    @staticmethod
    def _key(told: BoxRow, form: Form) -> str:
        return f"colony:{told.box}:{form.line.line}:{told.since or ''}"

    @staticmethod
    def _founded_id(told: BoxRow, form: Form) -> str:
        return derived_id(f"sheet|founded|{told.box}|{form.line.line}|{told.since or ''}")

    def _fresh_id(self, told: BoxRow, form: Form) -> str:
        """The id of a founding; another one where the book has it as withdrawn or long over."""
        fact_id = self._founded_id(told, form)
        number = 1
        while fact_id in self._known.founding_ids:
            number += 1
            fact_id = derived_id(
                f"sheet|founded|{told.box}|{form.line.line}|{told.since or ''}|{number}"
            )
        return fact_id

    def _withdrawn(self, fact_id: str) -> bool:
        return fact_id in self._known.founding_ids

    def _said(self, stay: Stay) -> str:
        forms = self._forms(stay)
        name, morph = forms[0][2:] if forms else (stay.line, "")
        words = f"{name}, {morph}" if morph and plain(morph) not in plain(name) else name
        return f"{words}, colony {stay.colony} since {stay.came}"

    def _same_day(self, told: BoxRow, stay: Stay) -> bool:
        """True where the row's day is that of the colony's beginning, or of its coming here."""
        state = self._living.register.colonies.get(stay.colony)
        days = {stay.came, state.founded if state else stay.came}
        since = told.since or ""
        return bool(since) and any(day.startswith(since) or since.startswith(day) for day in days)

    def _kinship(self, form: Form, stay: Stay) -> questions.Kin:
        """How the row's line stands to the one that lives there."""
        if stay.line == form.line.line:
            return "same"
        akin = [one for one in self._forms(stay) if one[0] == form.line.species]
        if not akin:
            return "other"
        return "same" if _bare(form.line.morph) in {_bare(one[1]) for one in akin} else "morph"

    def _forms(self, stay: Stay) -> list[tuple[str, str, str, str]]:
        """Species and morph of a line, now and formerly, with the name and morph to say it by."""
        line = self._living.register.lines.get(stay.line)
        if line:
            said = (line.as_bought, line.morph)
            formerly = [(species, morph) for species, morph, *_ in line.formerly]
            return [(*form, *said) for form in ((line.species, line.morph), *formerly)]
        told = self._known.lines.get(stay.line)
        return [(told.species, told.morph, told.as_bought, told.morph)] if told else []


def _bare(morph: str) -> str:
    return "" if plain(morph) in WILD else plain(morph)
