"""The planting sheet of wanted trees: their steps, what was ticked, what they take."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from django.db.models import Prefetch, Q, QuerySet

from care.facts import SiteFacts, Situation, Stock, Support, TreeFacts
from care.models import LogEntry, PlantingStep
from care.planning.gather import site_facts, tree_facts
from care.planning.kinds import Kinds, kinds_of
from care.planning.planting_steps import Step, Wish, steps_of
from care.science.planting_amounts import first_feed, is_pot_too_small, ring_of
from care.science.planting_checks import day_cautions, pot_cautions, usual_backfill
from care.science.season import season_of
from orchard.models import Person, Site, WantedTree

KIND = "planting"
#: Steps that are tasks of a planned tree too -> the action of the task.
TASKS = {"locate": "locate", "drainage": "drainage"}
#: Steps whose amount is water that the tree got.
WATERS = ("settle_with_water", "first_watering")


@dataclass(frozen=True, slots=True)
class Tick:
    """Who did a step, when; ``is_from_log`` where the log tells it and no step does."""

    on: date
    person: Person | None
    amount: float | None = None
    is_from_log: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """One tree's sheet; ``stood_on`` is its day once somebody said that it stands."""

    wanted: WantedTree
    wish: Wish
    steps: tuple[Step, ...]
    ticks: dict[str, Tick]
    cautions: tuple[str, ...]
    usual_backfill: str
    stood_on: date | None
    planting: LogEntry | None

    @property
    def tree(self) -> TreeFacts:
        """What is known of the plant."""
        return self.wish.tree

    def step(self, code: str) -> Step | None:
        """Return a step of this sheet by its code, if it has it."""
        return next((step for step in self.steps if step.code == code), None)

    @property
    def unticked(self) -> tuple[Step, ...]:
        """The steps that nobody ticked, in their order."""
        return tuple(step for step in self.steps if step.code not in self.ticks)

    @property
    def given_l(self) -> float | None:
        """The water that ticks tell of [L]; ``None`` where none was given."""
        waters = [
            tick.amount
            for code, tick in self.ticks.items()
            if code in WATERS and tick.amount is not None
        ]
        return sum(waters) if waters else None


def season_at(site: Site, day: date) -> int:
    """Return the care year of a day at a site."""
    return season_of(day, southern=site.latitude_deg < 0)


def usual_backfill_at(site: Site, species_key: str) -> str:
    """Return what the hole of a kind is filled with unless somebody chooses."""
    return usual_backfill(kinds_of(site.orchard).species(species_key))


def wanted_of(site: Site) -> QuerySet[WantedTree]:
    """Return a site's wanted trees with everything a sheet reads, in few queries."""
    steps = PlantingStep.objects.select_related("person")
    return (
        WantedTree.objects.filter(planting__site=site)
        .select_related("planting", "tree", "block")
        .prefetch_related("tree__stays", Prefetch("steps", queryset=steps))
        .order_by("id")
    )


def sheets_of(
    site: Site, wanted: Iterable[WantedTree], today: date
) -> tuple[Sheet, ...]:
    """Return the sheets of wanted trees of a site, in a constant number of queries.

    ``wanted`` are rows of :func:`wanted_of`.
    """
    rows = list(wanted)
    kinds, facts = kinds_of(site.orchard), site_facts(site)
    entries = _entries(row.tree_id for row in rows)
    return tuple(
        _sheet(row, kinds, facts, entries.get(row.tree_id or 0, ()), today)
        for row in rows
    )


def _entries(tree_ids: Iterable[int | None]) -> dict[int, list[LogEntry]]:
    """Return what the log tells of the plantings of trees, by tree."""
    found: dict[int, list[LogEntry]] = defaultdict(list)
    told = LogEntry.objects.filter(
        Q(kind=KIND, what=LogEntry.What.DONE)
        | Q(kind="drainage_hours", what=LogEntry.What.OBSERVED),
        tree_id__in=[pk for pk in tree_ids if pk is not None],
        voided_at=None,
    ).select_related("person")
    for entry in told.order_by("on", "id"):
        found[entry.tree_id or 0].append(entry)
    return found


def _sheet(
    row: WantedTree,
    kinds: Kinds,
    site: SiteFacts,
    entries: Sequence[LogEntry],
    today: date,
) -> Sheet:
    ticks = _ticks(row, entries)
    tree = wanted_facts(row, kinds, ticks, today)
    wish = _wish(row, tree, site, today)
    planting = next((each for each in entries if each.action == "plant"), None)
    return Sheet(
        wanted=row,
        wish=wish,
        steps=steps_of(wish),
        ticks=ticks,
        cautions=_cautions(tree, is_asked="locate" in ticks),
        usual_backfill=usual_backfill(tree.species),
        stood_on=_stood_on(row, planting, today),
        planting=planting,
    )


def _stood_on(row: WantedTree, planting: LogEntry | None, today: date) -> date | None:
    """Return since when it stands: as the log says, or as it was entered.

    One whose day is today is being planted: it stands once somebody says so.
    """
    if planting is not None:
        return planting.on
    day = None if row.tree is None else row.tree.planted_on
    if row.tree is None or day is None or day == today or day > row.tree.entered_on:
        return None
    return day


def _ticks(row: WantedTree, entries: Sequence[LogEntry]) -> dict[str, Tick]:
    """Return what was ticked here or, of a planned tree, written into its log."""
    ticks = {
        step.code: Tick(step.on, step.person, step.amount) for step in row.steps.all()
    }
    for entry in entries:
        code = "drainage" if entry.kind == "drainage_hours" else entry.action
        if code in TASKS and code not in ticks:
            ticks[code] = Tick(entry.on, entry.person, entry.amount, is_from_log=True)
    return ticks


def wanted_facts(
    row: WantedTree, kinds: Kinds, ticks: dict[str, Tick], today: date
) -> TreeFacts:
    """Return what is known of a wanted plant; its row among the trees goes before."""
    hours = ticks["drainage"].amount if "drainage" in ticks else None
    if row.tree is not None:
        facts = tree_facts(row.tree, today, kinds)
        known = facts.drainage_hours if facts.drainage_hours is not None else hours
        # A guard that was fitted by this very sheet stays on it.
        had = facts.has_trunk_guard and "trunk_guard" not in ticks
        return replace(facts, drainage_hours=known, has_trunk_guard=had)
    return TreeFacts(
        id=0,
        name=row.name,
        species=kinds.species(row.species_key),
        block_id=row.block_id,
        planted_on=row.plant_on or today,
        entered_on=today,
        in_container=row.in_container,
        container_litres=row.container_litres,
        container_medium=row.container_medium or "mix",
        stock=Stock(row.stock),
        stock_litres=row.stock_litres,
        caliper_mm=row.caliper_mm,
        support=Support(row.support),
        drainage_hours=hours,
        cultivar=row.cultivar,
        rootstock=row.rootstock,
    )


def _wish(row: WantedTree, tree: TreeFacts, site: SiteFacts, today: date) -> Wish:
    on = tree.planted_on or today
    feed = None
    if row.is_fed:
        new = replace(tree, planted_on=on, crown_width_m=None)
        feed = first_feed(Situation(on, new, site, None))
    return Wish(
        tree=tree,
        site=site,
        backfill=row.backfill,
        has_edging=row.has_edging,
        mulch_material=row.mulch_material,
        ring=ring_of(tree, row.mulch_ring_radius_m, row.mulch_depth_mm),
        feed=feed,
        is_fed=row.is_fed,
    )


def _cautions(tree: TreeFacts, *, is_asked: bool) -> tuple[str, ...]:
    if not tree.in_container:
        return day_cautions(tree, is_asked=is_asked)
    is_small = is_pot_too_small(tree)
    return (*(("pot_smaller_than_ball",) if is_small else ()), *pot_cautions(tree))
