"""A walk on one sheet, for phone and paper: who, how to get in, what to mind, what to do."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

import segno
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext, gettext_noop

from care.models import ShiftPlace, Task
from care.planning.held_fruit import held_trees
from care.planning.shift_work import Hazard, HeldTree, hazards_of, minutes_of
from care.views.bring_words import bring_lines
from care.views.cautions import CAUTIONS, caution_words
from care.views.days import short_day
from care.views.hold_words import hold_words
from care.views.task_lines import NO_BLOCK, task_line
from care.views.warning_words import OURS
from orchard.models import Block, Site, skill_words
from orchard.sources.official_warnings import Concern
from orchard.units import UnitSystem

#: Whatever the weather looks like when the sheet is printed.
FIRST_THUNDER = OURS[Concern.THUNDER]
#: No source names one rule for all three; see `care/planning/place_rules.py`.
NEVER_ALONE = gettext_noop(
    "A ladder, a saw or a spray is part of this: nobody does that alone, nobody under 18 "
    "does it, and only people who know how."
)
OPEN_PLACE = gettext_noop("Open: nobody yet")


@dataclass(frozen=True, slots=True)
class WalkLine:
    """One task to tick by pen, or on its page."""

    public_id: UUID
    title: str
    amount: str
    when: str
    minutes: int
    tag: str
    held: str


@dataclass(frozen=True, slots=True)
class WalkBlock:
    """The lines of one block, in walking order."""

    title: str
    lines: tuple[WalkLine, ...]


@dataclass(frozen=True, slots=True)
class WalkSheet:
    """What there is to do, to mind and to bring."""

    stops: tuple[str, ...]
    cautions: tuple[str, ...]
    held: tuple[str, ...]
    bring: tuple[str, ...]
    blocks: tuple[WalkBlock, ...]
    minutes: int


def walk_sheet(
    tasks: Sequence[Task],
    held: Iterable[HeldTree],
    day: date,
    units: UnitSystem,
    *,
    is_hazardous: bool = False,
) -> WalkSheet:
    """Put tasks, in walking order, on one sheet.

    It is read on the ``day`` of the walk: what it says of days is said from there.
    ``is_hazardous`` where somebody said so by hand.
    """
    held = tuple(held)
    hazards: frozenset[Hazard] = frozenset().union(*map(hazards_of, tasks))
    alone = (gettext(NEVER_ALONE),) if hazards or is_hazardous else ()
    codes = {code for task in tasks for code in task.cautions}
    stopping = {code for code in codes if CAUTIONS.get(code, "").startswith("Stop")}
    return WalkSheet(
        stops=(gettext(FIRST_THUNDER), *alone, *caution_words(stopping)),
        cautions=tuple(caution_words(codes - stopping)),
        held=tuple(_held_line(one, day) for one in held),
        bring=bring_lines(tasks, units),
        blocks=_blocks(tasks, held, day, units),
        minutes=minutes_of(tasks, day),
    )


def held_lines(site: Site, day: date, block: Block | None) -> tuple[str, ...]:
    """Return what must not be picked on a day in a block, or a site's every tree."""
    return tuple(_held_line(one, day) for one in held_trees(site, day, block))


def _held_line(one: HeldTree, day: date) -> str:
    words = hold_words([one.hold], one.tree.pk, day)
    place = f" ({one.tree.block.name})" if one.tree.block else ""
    return f"{one.tree.name}{place}. {words}"


def _blocks(
    tasks: Iterable[Task], held: Iterable[HeldTree], day: date, units: UnitSystem
) -> tuple[WalkBlock, ...]:
    until = {one.tree.pk: one.hold.until for one in held}
    found: list[tuple[int | None, str, list[WalkLine]]] = []
    for task in tasks:
        if not found or found[-1][0] != task.tree.block_id:
            title = task.tree.block.name if task.tree.block else gettext(NO_BLOCK)
            found.append((task.tree.block_id, title, []))
        line = task_line(task, day, units)
        last = until.get(task.tree_id)
        found[-1][2].append(
            WalkLine(
                public_id=task.public_id,
                title=line.title,
                amount=line.amount,
                when=line.when,
                minutes=task.effort_minutes,
                tag=task.tree.tag,
                held=gettext("fruit held until {day}").format(day=short_day(last, day))
                if last
                else "",
            )
        )
    return tuple(WalkBlock(title, tuple(lines)) for _, title, lines in found)


def people_lines(places: Iterable[ShiftPlace]) -> tuple[str, ...]:
    """Return who comes, a line a place; their holders must be at hand."""
    lines = []
    for place in places:
        if place.is_learner and place.holder is None:
            continue
        name = place.holder.shown_name if place.holder else gettext(OPEN_PLACE)
        also = [skill_words(place.skill)] if place.skill else []
        also += [gettext("learns")] if place.is_learner else []
        also += [gettext("on hold")] if place.on_hold else []
        also += (
            [gettext("cover asked for")]
            if place.state == ShiftPlace.State.OFFERED
            else []
        )
        also += (
            [gettext("did not come")] if place.state == ShiftPlace.State.MISSED else []
        )
        lines.append(f"{name} ({', '.join(also)})" if also else name)
    return tuple(lines)


def square_of(address: str) -> SafeString:
    """Return a page's address as a square that phones read."""
    drawn = segno.make(address, error="m", micro=False).svg_inline(
        scale=4, omitsize=True, dark="#000", light="#fff", svgclass="square"
    )
    # It is made of our own address: nothing typed is in it.
    return mark_safe(drawn)  # noqa: S308
