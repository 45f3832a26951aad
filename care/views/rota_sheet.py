"""The rota as a page shows it: weeks, days, shifts and who holds their places."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.translation import gettext, gettext_noop, pgettext

from care.models import Shift, ShiftPlace
from care.planning.place_rules import may_begin
from care.planning.rota_facts import term_id
from care.planning.rota_plan import RotaPlan
from care.planning.rota_rows import is_proposed, monday_of
from care.views.days import full_day, short_day
from care.views.rota_words import short_why
from care.views.shift_words import hours_words
from orchard.languages import short_weekday_and_day
from orchard.models import skill_words

State = ShiftPlace.State
WEEK = timedelta(days=7)
ALONE = gettext_noop(
    "Nobody is alone with a ladder, a saw or a spray: with fewer than two grown-ups that "
    "work is left out."
)


@dataclass(frozen=True, slots=True)
class PlaceRow:
    """One place: who holds it, and what there is to know of it."""

    pk: int
    who: str
    skill: str
    state: str
    why: str
    is_open: bool
    is_mine: bool


@dataclass(frozen=True, slots=True)
class ShiftRow:
    """One shift of the rota."""

    shift: Shift
    day: str
    hours: str
    is_draft: bool
    caution: str
    places: tuple[PlaceRow, ...]

    @property
    def people(self) -> tuple[str, ...]:
        """Who holds its places, in words for a cell of a table."""
        return tuple(
            f"{place.who} ({place.skill})" if place.skill else place.who
            for place in self.places
        )


@dataclass(frozen=True, slots=True)
class GridRow:
    """Shifts of one name and hour through a week, a cell a day."""

    name: str
    hours: str
    cells: tuple[tuple[str, tuple[ShiftRow, ...]], ...]


@dataclass(frozen=True, slots=True)
class WeekRows:
    """The shifts of one week, as a list and as a table."""

    title: str
    days: tuple[str, ...]
    shifts: tuple[ShiftRow, ...]
    grid: tuple[GridRow, ...]


def weeks_of(
    plan: RotaPlan, names: Mapping[int, str], me: int, *, arranges: bool
) -> tuple[WeekRows, ...]:
    """Return the weeks of a rota that have a shift; drafts are for who arranges."""
    rows = plan.facts.rows
    weeks: dict[date, list[ShiftRow]] = {}
    for shift in rows.shifts.values():
        is_draft = shift.status == Shift.Status.DRAFT
        if rows.is_in_span(shift) and (arranges or not is_draft):
            row = _shift(plan, shift, names, me)
            weeks.setdefault(monday_of(shift.day), []).append(row)
    return tuple(
        WeekRows(
            title=_title(monday, rows.today),
            days=tuple(_short(monday + timedelta(days=n)) for n in range(7)),
            shifts=tuple(found),
            grid=_grid(monday, found),
        )
        for monday, found in sorted(weeks.items())
    )


def _title(monday: date, today: date) -> str:
    names = {
        monday_of(today): gettext("This week"),
        monday_of(today) + WEEK: gettext("Next week"),
    }
    return names.get(
        monday, gettext("Week of {day}").format(day=short_day(monday, today))
    )


def _short(day: date) -> str:
    return short_weekday_and_day(day)


def _shift(plan: RotaPlan, shift: Shift, names: Mapping[int, str], me: int) -> ShiftRow:
    rows = plan.facts.rows
    places = rows.places[shift.pk]
    return ShiftRow(
        shift=shift,
        day=full_day(shift.day),
        hours=hours_words(shift, rows.site),
        is_draft=shift.status == Shift.Status.DRAFT,
        caution=gettext(ALONE) if _is_alone(plan, shift) else "",
        places=tuple(_place(plan, place, names, me) for place in places),
    )


def _is_alone(plan: RotaPlan, shift: Shift) -> bool:
    """Whether somebody would be alone at what can hurt; a draft may yet be filled."""
    rows = plan.facts.rows
    counted = [place for place in rows.places[shift.pk] if not place.is_learner]
    present = [who for place in counted if (who := plan.holder(place)) is not None]
    is_empty_draft = shift.status == Shift.Status.DRAFT and not present
    expected = counted if is_empty_draft else present
    terms = next(one for one in plan.facts.board if one.id == term_id(shift))
    return rows.is_to_fill(shift) and not may_begin(
        is_hazardous=terms.is_hazardous,
        present=[number for number, _one in enumerate(expected)],
    )


def _place(
    plan: RotaPlan, place: ShiftPlace, names: Mapping[int, str], me: int
) -> PlaceRow:
    holder = plan.holder(place)
    why = plan.why.get(place.pk)
    name = names.get(holder or 0) or (
        place.holder.shown_name if place.holder and holder else ""
    )
    return PlaceRow(
        pk=place.pk,
        who=name or pgettext("a place", "Open"),
        skill=skill_words(place.skill) if place.skill else "",
        state=", ".join(_states(place, holder)),
        why=short_why(why, names) if why else "",
        is_open=holder is None,
        is_mine=holder == me,
    )


def _states(place: ShiftPlace, holder: int | None) -> Iterable[str]:
    """Return what there is to say of a held place."""
    if place.is_learner:
        yield gettext("to learn")
    if holder is None:
        return
    if place.on_hold:
        yield gettext("on hold")
    if place.state == State.OFFERED:
        yield gettext("asks for cover")
    is_draft = place.shift.status == Shift.Status.DRAFT
    if is_draft:
        yield gettext("proposed") if is_proposed(place) else gettext("set by hand")
    elif place.state == State.HELD:
        yield (
            gettext("said yes")
            if place.accepted_at
            else gettext("has not answered yet")
        )


def _grid(monday: date, shifts: Iterable[ShiftRow]) -> tuple[GridRow, ...]:
    by_kind: dict[tuple[str, str], dict[date, list[ShiftRow]]] = {}
    for row in shifts:
        days = by_kind.setdefault((row.hours, row.shift.name), {})
        days.setdefault(row.shift.day, []).append(row)
    return tuple(
        GridRow(
            name=name,
            hours=hours,
            cells=tuple(
                (_short(day), tuple(days.get(day, ())))
                for day in (monday + timedelta(days=n) for n in range(7))
            ),
        )
        for (hours, name), days in by_kind.items()
    )
