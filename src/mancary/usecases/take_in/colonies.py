"""Whether a row of a box list founds a colony, tells of the one that lives there, or is asked."""

from collections.abc import Sequence
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
_OLD_SINCE = "the sheet says since {}, before the box was emptied; here by this day"


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
        if own := self._own(told, form):
            return self._told_before(cells, told, own, form, news=news)
        stay = self._living.now(told.box)
        if stay:
            return self._beside(cells, told, form, stay, news=news)
        withdrawn = self._founding_id(told, form, 1) in self._known.founding_ids
        if withdrawn or self._living.retired(told.box) or self._living.last(told.box):
            return self._emptied(cells, told, form)
        return self._begun(told, form, told.since)

    def learn(self, plan: Plan) -> None:
        """Takes over the colony that a row founds, and the one that it ends."""
        if plan.ended:
            self._living.end(plan.ended, plan.since)
        if plan.founded:
            one = plan.founded
            self._known.found(plan.facts[-1][0], one)
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
        self, cells: Cells, told: BoxRow, own: Sequence[str], form: Form, *, news: bool
    ) -> Plan | None:
        """A sheet founded these colonies; where none of them lives here now, the row is asked.

        Not where the row's day tells which colony it means, and that one only lives elsewhere now.
        """
        stay = self._living.now(told.box)
        cells.ground.mends.get(self._key(told, form))
        if stay and (not news or stay.colony in own):
            return Plan()
        if stay:
            return self._beside(cells, told, form, stay, news=news)
        if said := self._since_then(told, own, news=news):
            cells.said.append(said)
            return Plan()
        return self._emptied(cells, told, form)

    def _since_then(self, told: BoxRow, own: Sequence[str], *, news: bool) -> str:
        """Of which colony a row tells that lives here no more, where there is no doubt."""
        then = self._living.on(told.box, on_day(self._as_of))
        left = then.left if then and then.colony in own else None
        if then and left and first_day(left, self._zone) > self._as_of:
            return f"this tells of colony {then.colony}, which {then.why_left}"
        home = self._living.home(own[-1])
        if told.since and home and not news:
            return f"its colony {home.colony} lives in {home.box} now"
        return ""

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
        return self._begun(told, form, told.since, ends=stay) if answer else None

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
        last, retired = self._living.last(told.box), self._living.retired(told.box)
        since = self._anew(told, last)
        lags = bool(last and since != told.since and self._kinship(form, last) == "same")
        why, choices = questions.emptied(told.box, last, retired=retired, since=since, lags=lags)
        answer = cells.settle("species", self._key(told, form), why, choices)
        if answer == questions.ALONE:
            return Plan(counted=False)
        return self._begun(told, form, since) if answer else None

    def _anew(self, told: BoxRow, last: Stay | None) -> Moment | None:
        """Since when a new colony can live in an emptied box; None where it cannot yet."""
        as_of = on_day(self._as_of)
        since = told.since or as_of
        if last is None or last.left is None:
            return since
        if order_key(since, self._zone) >= order_key(last.left, self._zone):
            return since
        return as_of if self._as_of >= first_day(last.left, self._zone) else None

    def _begun(
        self, told: BoxRow, form: Form, since: Moment | None, ends: Stay | None = None
    ) -> Plan:
        since = since or on_day(self._as_of)
        number = 1
        while f"{told.box}.{number}" in self._known.colonies:
            number += 1
        founded = Founded(
            colony=f"{told.box}.{number}",
            box=told.box,
            line=form.line.line,
            note=self._note(told, form, since),
        )
        fact_id = self._foundings(told, form)[-1]
        facts: tuple[tuple[str, Fact, Moment], ...] = ((fact_id, founded, since),)
        if ends:
            ended = Ended(colony=ends.colony, box=ends.box, cause="not_known", note=_REPLACED)
            facts = ((derived_id(f"sheet|ended|{ends.colony}|{fact_id}"), ended, since), *facts)
        return Plan(facts=facts, founded=founded, since=since, ended=ends)

    def _note(self, told: BoxRow, form: Form, since: Moment) -> str:
        line = self._known.lines.get(form.line.line, form.line)
        notes = [] if told.since else [_NOT_SAID_SINCE]
        if told.since and told.since != since:
            notes.append(_OLD_SINCE.format(told.since))
        if line.as_bought != told.name:
            notes.append(f"written as '{told.name}'")
        return "; ".join(notes)

    @staticmethod
    def _key(told: BoxRow, form: Form) -> str:
        return f"colony:{told.box}:{form.line.line}:{told.since or ''}"

    @staticmethod
    def _founding_id(told: BoxRow, form: Form, number: int) -> str:
        text = f"sheet|founded|{told.box}|{form.line.line}|{told.since or ''}"
        return derived_id(text if number == 1 else f"{text}|{number}")

    def _foundings(self, told: BoxRow, form: Form) -> list[str]:
        """The ids of all foundings by such a row, and last the next one, which is free."""
        ids = [self._founding_id(told, form, 1)]
        while ids[-1] in self._known.founding_ids:
            ids.append(self._founding_id(told, form, len(ids) + 1))
        return ids

    def _own(self, told: BoxRow, form: Form) -> list[str]:
        """The colonies that such a row founded, the last one last; withdrawn ones left out."""
        founded = self._known.founded
        return [founded[one].colony for one in self._foundings(told, form) if one in founded]

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
