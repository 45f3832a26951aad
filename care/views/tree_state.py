"""A tree's state this morning, in words, with its work and its log."""

from dataclasses import dataclass
from datetime import date, timedelta

from django.db.models import Sum
from django.utils.translation import gettext, pgettext

from care.charts.water_chart import WaterChart, water_chart
from care.models import LogEntry, Task
from care.planning.cold_ahead import cold_stand
from care.planning.gather import Records, gather
from care.planning.learned import what_was_learned
from care.planning.water_ahead import tree_water
from care.planning.winter import winter_outlook
from care.views.hold_words import hold_words
from care.views.learned_words import LearnedRow, learned_rows
from care.views.log_lines import LogLine, log_lines
from care.views.log_people import with_people
from care.views.task_lines import TaskLine, task_line
from care.views.tree_ahead_words import tree_ahead_rows
from care.views.water_words import water_words
from care.views.winter_words import need_words, tree_chill_words
from care.views.wording import reason_of
from orchard.models import Tree
from orchard.units import UnitSystem, format_quantity, format_temperature

YEAR = timedelta(days=365)
LOG_SHOWN = 20
POT_FIGURES = ("move_in_temp_c", "tender_pot")


@dataclass(frozen=True, slots=True)
class StateRow:
    """One side of a tree's state."""

    label: str
    words: str


@dataclass(frozen=True, slots=True)
class TreeState:
    """What the page says of a tree's state, and the drawing of its water."""

    rows: tuple[StateRow, ...]
    chart: WaterChart | None
    held: str
    learned: tuple[LearnedRow, ...]

    @property
    def asks(self) -> str:
        """What to measure again, where answers do not fit the tree's facts."""
        return next((row.ask for row in self.learned if row.ask), "")


def tree_state(tree: Tree, today: date, units: UnitSystem) -> TreeState | None:
    """Return the state of a living tree; None for one that is gone or planned."""
    if tree.status != Tree.Status.ALIVE or tree.is_planned(today):
        return None
    records = gather(tree.site, today)
    water = tree_water(records, tree.pk)
    outlook = None if water is None else water[0]
    rows = (
        StateRow(
            pgettext("of a tree's state", "Water"), water_words(outlook, today, units)
        ),
        StateRow(pgettext("of a tree's state", "Cold"), _cold(tree, records, units)),
        StateRow(pgettext("of a tree's state", "Chill"), _chill(tree, records)),
        *(StateRow(*row) for row in tree_ahead_rows(records, tree.pk)),
        StateRow(pgettext("of a tree's state", "Feed"), _fed(tree, today, units)),
        StateRow(pgettext("of a tree's state", "Mulch"), _mulch(tree, units)),
        StateRow(pgettext("of a tree's state", "Cuts"), _cut(tree, today, units)),
    )
    chart = water_chart(*water, today, units) if water else None
    held = hold_words(records.holds, tree.pk, today)
    return TreeState(
        rows=tuple(row for row in rows if row.words),
        chart=chart,
        held=held,
        learned=learned_rows(
            what_was_learned(records, tree.pk, outlook),
            today,
            units,
            in_container=tree.in_container,
        ),
    )


def _cold(tree: Tree, records: Records, units: UnitSystem) -> str:
    """Return what it bears today by its pot, age, buds and hardening, and the alarm."""
    stand = cold_stand(records, tree.pk)
    if stand is None:
        return gettext("No figure is known.")

    def degrees(value_c: float) -> str:
        return format_temperature(value_c, units)

    what = (
        gettext("Open buds and flowers are hurt") if stand.stage else gettext("Damage")
    )
    what = gettext("The pot comes in") if stand.figure in POT_FIGURES else what
    mark = gettext(", unverified") if stand.is_unverified else ""
    words = gettext("{what} at {bears}{mark}").format(
        what=what, bears=degrees(stand.bears_c), mark=mark
    )
    words = gettext("{words}; the alarm rings from {alarm}.").format(
        words=words, alarm=degrees(stand.alarm_c)
    )
    if stand.unhardened_c:
        words = f"{words} " + gettext("It is not hardened yet.")
    if stand.hardened_c is None:
        return words
    rest = gettext("The pot") if tree.in_container else gettext("Hardened wood")
    return gettext("{words} {rest} bears {hardened}.").format(
        words=words, rest=rest, hardened=degrees(stand.hardened_c)
    )


def _chill(tree: Tree, records: Records) -> str:
    mine = next((one for one in records.trees if one.id == tree.pk), None)
    species, stays = (mine.species, mine.stays) if mine else (None, ())
    if not need_words(species):
        return ""
    weather, today = records.weather, records.today
    outlook = winter_outlook(weather, records.site, today) if weather else None
    return tree_chill_words(outlook, species, stays if tree.in_container else (), today)


def _done(tree: Tree, kind: str, today: date) -> list[LogEntry]:
    return list(
        LogEntry.objects.filter(
            tree=tree,
            kind=kind,
            what=LogEntry.What.DONE,
            voided_at=None,
            on__gt=today - YEAR,
        )
    )


def _fed(tree: Tree, today: date, units: UnitSystem) -> str:
    given = LogEntry.objects.filter(
        tree=tree, kind="feeding", voided_at=None, on__gt=today - YEAR
    ).aggregate(total=Sum("nitrogen_g"))["total"]
    if given:
        return gettext("{given} of nitrogen in twelve months.").format(
            given=format_quantity(given, "g", units)
        )
    if tree.fed_before == Tree.Known.UNKNOWN:
        return gettext("Nothing logged; unknown before it was entered.")
    return gettext("Nothing logged in twelve months.")


def _mulch(tree: Tree, units: UnitSystem) -> str:
    task = Task.objects.filter(
        tree=tree, kind="mulching", key="next/top_up", status=Task.Status.OPEN
    ).first()
    depth = reason_of(task).number("last_depth_mm") if task else None
    if task is None or depth is None:
        return ""
    words = format_quantity(depth, "mm", units)
    return gettext("{words} when last laid or measured.").format(words=words)


def _cut(tree: Tree, today: date, units: UnitSystem) -> str:
    gone = sum(entry.amount or 0.0 for entry in _done(tree, "pruning", today))
    if not gone:
        return ""
    return gettext("{gone} of the crown in twelve months.").format(
        gone=format_quantity(gone, "share", units)
    )


def tree_tasks(tree: Tree, today: date, units: UnitSystem) -> tuple[TaskLine, ...]:
    """Return a tree's open tasks as lines, soonest first."""
    tasks = (
        Task.objects.filter(tree=tree, status=Task.Status.OPEN)
        .select_related("tree", "round")
        .order_by("due", "id")
    )
    return tuple(task_line(task, today, units) for task in tasks)


def tree_log(tree: Tree, today: date, units: UnitSystem) -> tuple[LogLine, ...]:
    """Return the last entries of a tree's log."""
    entries = with_people(LogEntry.objects.filter(tree=tree))[:LOG_SHOWN]
    return tuple(log_lines(entries, today, units))
