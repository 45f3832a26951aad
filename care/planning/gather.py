"""Rows to facts: everything planning needs, in a constant number of queries."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import Prefetch, Q

from care.facts import (
    Answer,
    Blackout,
    MonthDay,
    Mulch,
    Observation,
    Place,
    RainReach,
    SiteFacts,
    StandingIrrigation,
    Stay as StayFacts,
    Stock,
    TreeFacts,
    WeatherSeries,
    WorkDone,
)
from care.models import LogEntry
from care.planning.species_facts import species_facts
from care.planning.weather_days import read_weather, typed_minimum_c, weather_series
from orchard.models import Site, Stay, Tree

OBSERVATIONS = (
    "soil_feel",
    "mulch_depth_mm",
    "trunk_gap_mm",
    "shoot_growth_mm",
    "bloom_stage",
)


@dataclass(frozen=True, slots=True)
class Records:
    """A site as of one morning; ``revision`` is what was read."""

    site: SiteFacts
    trees: tuple[TreeFacts, ...]
    weather: WeatherSeries | None
    work: tuple[WorkDone, ...]
    observations: tuple[Observation, ...]
    typed_minimum_c: float | None
    revision: int
    today: date


def gather(site: Site, today: date) -> Records:
    """Read a site's records strictly as of ``today``."""
    trees = _trees(site, today)
    work, observations = _log(site, today)
    return Records(
        site=site_facts(site),
        trees=tuple(tree_facts(tree, today) for tree in trees),
        weather=weather_series(read_weather(site, today), today),
        work=work,
        observations=observations,
        typed_minimum_c=typed_minimum_c(site, today),
        revision=site.revision,
        today=today,
    )


def _month_day(month: int | None, day: int | None) -> MonthDay | None:
    return MonthDay(month, day) if month and day else None


def site_facts(site: Site) -> SiteFacts:
    """Return a site row, and its local rules, as facts."""
    return SiteFacts(
        latitude_deg=site.latitude_deg,
        elevation_m=site.elevation_m,
        soil_texture=site.soil_texture,
        last_frost=_month_day(site.last_frost_month, site.last_frost_day),
        first_frost=_month_day(site.first_frost_month, site.first_frost_day),
        is_frost_free=site.is_frost_free,
        frost_margin_c=site.frost_margin_c,
        feeding_blackouts=tuple(
            Blackout(
                MonthDay(span.start_month, span.start_day),
                MonthDay(span.end_month, span.end_day),
            )
            for span in site.feeding_blackouts.all()
        ),
        feed_product_name=site.feed_product_name,
        feed_nitrogen_percent=site.feed_nitrogen_percent,
    )


def _trees(site: Site, today: date) -> list[Tree]:
    lives = Q(status=Tree.Status.ALIVE) | Q(ended_on__gt=today)
    stays = Stay.objects.filter(since__lte=today).order_by("since", "id")
    return list(
        site.trees.filter(lives, entered_on__lte=today)
        .order_by("id")
        .prefetch_related(Prefetch("stays", queryset=stays))
    )


def tree_facts(tree: Tree, today: date) -> TreeFacts:
    """Return a tree row as facts; its stays must be prefetched."""
    return TreeFacts(
        id=tree.pk,
        name=tree.name,
        species=species_facts(tree.species_key),
        block_id=tree.block_id,
        planted_on=tree.planted_on,
        entered_on=tree.entered_on,
        in_container=tree.in_container,
        container_litres=tree.container_litres,
        container_diameter_m=tree.container_diameter_m,
        container_medium=tree.container_medium or "mix",
        stock=Stock(tree.stock),
        stock_litres=tree.stock_litres,
        caliper_mm=tree.caliper_mm,
        crown_width_m=tree.crown_width_m,
        height_m=tree.height_m,
        height_target_m=tree.height_target_m,
        spacing_m=tree.spacing_m,
        near_wires=tree.near_wires,
        floor=tree.floor,
        watered_radius_m=tree.watered_radius_m,
        mulch=_mulch(tree, today),
        rain_reach=RainReach(tree.rain_reach),
        standing_irrigation=_standing_irrigation(tree),
        stays=tuple(StayFacts(Place(s.place), s.since) for s in tree.stays.all()),
        clump_id=tree.clump_id,
        fed_before=Answer(tree.fed_before),
        pruned_before=Answer(tree.pruned_before),
        mulched_before=Answer(tree.mulched_before),
    )


def _mulch(tree: Tree, today: date) -> Mulch | None:
    laid_on = tree.mulch_laid_on
    if not tree.mulch_material or tree.mulch_depth_mm is None or laid_on is None:
        return None
    if laid_on > today:
        return None
    return Mulch(
        material=tree.mulch_material,
        depth_mm=tree.mulch_depth_mm,
        laid_on=laid_on,
        ring_radius_m=tree.mulch_ring_radius_m,
        trunk_gap_mm=tree.trunk_gap_mm,
    )


def _standing_irrigation(tree: Tree) -> StandingIrrigation | None:
    if not tree.irrigation_litres or not tree.irrigation_weekdays:
        return None
    return StandingIrrigation(
        litres=tree.irrigation_litres,
        weekdays=frozenset(int(digit) for digit in tree.irrigation_weekdays),
        since=tree.irrigation_since,
    )


def _log(
    site: Site, today: date
) -> tuple[tuple[WorkDone, ...], tuple[Observation, ...]]:
    entries = (
        LogEntry.objects.filter(
            site=site, on__lte=today, voided_at=None, tree__isnull=False
        )
        .select_related("task")
        .order_by("on", "id")
    )
    work, observations = [], []
    for entry in entries:
        if entry.what in (LogEntry.What.DONE, LogEntry.What.SKIPPED):
            work.append(_work_done(entry))
        elif entry.kind in OBSERVATIONS:
            observations.append(
                Observation(
                    tree_id=entry.tree_id or 0,
                    what=entry.kind,
                    on=entry.on,
                    value=entry.amount,
                    word=entry.word,
                )
            )
    return tuple(work), tuple(observations)


def _work_done(entry: LogEntry) -> WorkDone:
    return WorkDone(
        tree_id=entry.tree_id or 0,
        kind=entry.kind,
        key=entry.key,
        on=entry.on,
        what=entry.what,
        amount=_model_amount(entry),
        reason=entry.reason,
    )


def _model_amount(entry: LogEntry) -> float | None:
    """Return the amount in the unit the model counts in.

    Feeding counts nitrogen, not product; mulch counts depth, not volume: the task
    knows which depth its volume makes on that ring.
    """
    if entry.kind == "feeding":
        return entry.nitrogen_g
    if entry.kind == "mulching" and entry.unit == "L":
        return _depth_mm(entry)
    return entry.amount


def _depth_mm(entry: LogEntry) -> float | None:
    if entry.task is None or entry.amount is None or not entry.task.amount:
        return None
    depth = dict(entry.task.reason.get("facts", [])).get("add_mm")
    if not isinstance(depth, int | float):
        return None
    return float(depth) * entry.amount / entry.task.amount


def work_by_tree(items: Iterable[WorkDone]) -> dict[int, tuple[WorkDone, ...]]:
    """Group what was done by its tree."""
    groups: dict[int, list[WorkDone]] = defaultdict(list)
    for item in items:
        groups[item.tree_id].append(item)
    return {tree_id: tuple(group) for tree_id, group in groups.items()}


def observations_by_tree(
    items: Iterable[Observation],
) -> dict[int, tuple[Observation, ...]]:
    """Group readings by their tree."""
    groups: dict[int, list[Observation]] = defaultdict(list)
    for item in items:
        groups[item.tree_id].append(item)
    return {tree_id: tuple(group) for tree_id, group in groups.items()}
