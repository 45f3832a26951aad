"""What the page of a planting shows: each wanted tree, its place, its time, its day."""

from collections.abc import Container, Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.translation import gettext, gettext_noop

from care.actions.plantings import planted_trees, stands
from care.planning.kinds import kinds_of
from care.planning.planting_sheet import wanted_facts, wanted_of
from care.planning.when_to_plant import (
    PlantingTime,
    PlantingYear,
    planting_times,
    planting_year,
)
from care.views.days import full_day, short_day
from care.views.planting_time_words import TimeWords, basis_words, time_words
from orchard.catalogue.search import called
from orchard.forms.planting_days import last_planned_day
from orchard.languages import day_of_year, weekday
from orchard.models import Planting, Tree, WantedTree
from orchard.units import UnitSystem, format_quantity
from orchard.views.site_page import SitePage

COMES = {
    Tree.Stock.CONTAINER_GROWN: gettext_noop("from a nursery pot"),
    Tree.Stock.BALLED: gettext_noop("dug with a ball of soil"),
    Tree.Stock.BARE_ROOT: gettext_noop("bare root"),
}
READY_DAYS = 14  # ours


@dataclass(frozen=True, slots=True)
class WantedLine:
    """One wanted tree; ``is_open`` while nobody set its day."""

    wanted: WantedTree
    what: str
    how: str
    stage: str
    has_place: bool
    day: str
    time: PlantingTime
    words: TimeWords

    @property
    def is_open(self) -> bool:
        """Whether it has no day yet."""
        return self.stage in ("wanted", "placed")

    @property
    def is_planted(self) -> bool:
        """Whether it stands, or stood."""
        return self.stage in ("standing", "gone again")


@dataclass(frozen=True, slots=True)
class WantedPage:
    """The trees of a planting.

    ``shared_day`` is the next that suits most of those without one: ``shared_count``.
    """

    lines: tuple[WantedLine, ...]
    basis: str
    is_told: bool
    shared_day: date | None
    shared_count: int

    @property
    def open_count(self) -> int:
        """How many trees have no day yet."""
        return sum(line.is_open for line in self.lines)

    @property
    def unplaced_count(self) -> int:
        """How many trees that do not stand yet have no place on the plan."""
        return sum(not line.has_place and not line.is_planted for line in self.lines)


def stage_of(wanted: WantedTree, today: date, planted: Container[int]) -> str:
    """Return how far a wanted tree is; its tree must be read with it.

    ``planted`` are those of :func:`care.actions.plantings.planted_trees`.
    """
    tree = wanted.tree
    if tree is None:
        return "placed" if wanted.x_m is not None else "wanted"
    if not stands(wanted, today, planted):
        return "with a day"
    return "standing" if tree.status == Tree.Status.ALIVE else "gone again"


def wanted_page(page: SitePage, planting: Planting) -> WantedPage:
    """Return what a planting's page shows, in a constant number of queries."""
    rows = list(wanted_of(page.site).filter(planting=planting))
    year = planting_year(page.site, page.today)
    lines = tuple(lines_of(rows, year, page))
    shared = _shared_day([line.time for line in lines if line.is_open], page.today)
    return WantedPage(lines, basis_words(year), year.is_told, *shared)


def lines_of(
    rows: Iterable[WantedTree], year: PlantingYear, page: SitePage
) -> list[WantedLine]:
    """Return a line for each of some wanted trees of a site."""
    rows = list(rows)
    kinds = kinds_of(page.site.orchard)
    times = planting_times(rows, year, kinds)
    planted = planted_trees(row.tree_id for row in rows)
    return [
        WantedLine(
            wanted=row,
            what=_what(row, called(kinds.species(row.species_key).name)),
            how=_how(row, page.units),
            stage=stage_of(row, page.today, planted),
            has_place=_has_place(row),
            day=_day(row, page.today, planted),
            time=times[row.pk],
            words=time_words(
                times[row.pk],
                wanted_facts(row, kinds, {}, page.today),
                year,
                page.units,
            ),
        )
        for row in rows
    ]


def _what(row: WantedTree, kind: str) -> str:
    plant = f"{kind} {row.cultivar}".strip()
    if not row.rootstock:
        return plant
    return gettext("{plant} on {rootstock}").format(
        plant=plant, rootstock=row.rootstock
    )


def _how(row: WantedTree, units: UnitSystem) -> str:
    comes = gettext(COMES[Tree.Stock(row.stock)])
    if row.in_container and row.container_litres is not None:
        litres = format_quantity(row.container_litres, "L", units)
        return gettext("for a pot of {litres}, {comes}").format(
            litres=litres, comes=comes
        )
    return gettext("for the ground, {comes}").format(comes=comes)


def _has_place(row: WantedTree) -> bool:
    return (row.x_m if row.tree is None else row.tree.x_m) is not None


def _day(row: WantedTree, today: date, planted: Container[int]) -> str:
    tree = row.tree
    if tree is None:
        return ""
    if tree.status != Tree.Status.ALIVE and tree.ended_on is not None:
        how = tree.get_status_display().lower()
        return gettext("{how} on {day}").format(
            how=how, day=short_day(tree.ended_on, today)
        )
    if tree.planted_on is None:
        return gettext("stands since long ago")
    if stands(row, today, planted):
        return gettext("stands since {day}").format(
            day=short_day(tree.planted_on, today)
        )
    day = full_day(tree.planted_on)
    if tree.planted_on.year != today.year:
        day = f"{weekday(tree.planted_on)} {day_of_year(tree.planted_on)}"
    if tree.planted_on < today:
        return gettext("was to be planted on {day}, and nobody ticked it yet").format(
            day=day
        )
    return gettext("to be planted on {day}").format(day=day)


def suggested_day(time: PlantingTime, today: date) -> date | None:
    """Return a day that leaves two weeks to get ready, else when its next time begins.

    Two weeks: for the call for marks and the test hole.
    """
    soon = today + timedelta(days=READY_DAYS)
    if time.current is not None:
        return max(min(soon, time.current.window.end), today + timedelta(days=1))
    return None if time.next is None else time.next.window.start


def _shared_day(times: list[PlantingTime], today: date) -> tuple[date | None, int]:
    """Return the next day that is the time of most trees, and of how many."""
    soon = today + timedelta(days=READY_DAYS)
    starts = {span.window.start for time in times for span in time.spans}
    last = last_planned_day(today)
    days = [soon, *sorted(day for day in starts if soon < day <= last)]
    counts = [sum(time.holds(day) is not None for time in times) for day in days]
    most = max(counts)
    return (days[counts.index(most)], most) if most else (None, 0)
