"""Rows to facts: everything planning needs, in a constant number of queries."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from typing import TypeVar

from django.db.models import Prefetch, Q

from care.facts import (
    Answer,
    Blackout,
    Goal,
    Hold,
    HoldCause,
    MonthDay,
    Mulch,
    NitrogenAdvice,
    Observation,
    Place,
    RainReach,
    SiteFacts,
    SoilTest,
    StandingIrrigation,
    Stay as StayFacts,
    Stock,
    Support,
    TreeFacts,
    WateringRule,
    WeatherSeries,
    WorkDone,
)
from care.models import LogEntry
from care.planning.forgotten import (
    OF_PLACE,
    forgotten_until,
    is_forgotten,
    pocket_forgotten_on,
)
from care.planning.frost_outlook import with_record_dates
from care.planning.frost_records import (
    Evening,
    frost_nights,
    logged_evenings,
    night_pairs,
    typed_minima,
)
from care.planning.kinds import Kinds, kinds_of
from care.planning.warmth import with_hottest_weeks
from care.planning.weather_days import read_weather, typed_minimum_c, weather_series
from care.science.frost_nights import cold_pocket
from orchard.models import Site, Stay, Tree

OBSERVATIONS = (
    "soil_feel",
    "mulch_depth_mm",
    "trunk_gap_mm",
    "shoot_growth_mm",
    "bloom_stage",
    "drained_after_l",
    "not_drained_l",
    "harvest",
)
LEFT_OUT = "shoot_growth_mm"  # once forgotten: it says nothing but what it teaches
MINUTES_PER_HOUR = 60
OfTree = TypeVar("OfTree", WorkDone, Observation, Hold)


@dataclass(frozen=True, slots=True)
class Records:
    """A site as of one morning; ``revision`` is what was read."""

    site: SiteFacts
    trees: tuple[TreeFacts, ...]
    weather: WeatherSeries | None
    work: tuple[WorkDone, ...]
    observations: tuple[Observation, ...]
    holds: tuple[Hold, ...]
    typed_minimum_c: float | None
    revision: int
    today: date
    tonight: Evening | None = None  # read two hours after this evening's sunset


def gather(site: Site, today: date) -> Records:
    """Read a site's records strictly as of ``today``."""
    trees, kinds = _trees(site, today), kinds_of(site.orchard)
    entries = _entries(site, today)
    work, observations, holds = _log(entries, trees)
    weather = weather_series(read_weather(site, today), today)
    evenings = logged_evenings(site, today)
    return Records(
        site=_with_cold(
            _with_year(site_facts(site), weather, today),
            site,
            evenings,
            today,
            forgotten_on=pocket_forgotten_on(entries),
        ),
        trees=tuple(tree_facts(tree, today, kinds) for tree in trees),
        weather=weather,
        work=work,
        observations=observations,
        holds=holds,
        typed_minimum_c=typed_minimum_c(site, today),
        revision=site.revision,
        today=today,
        tonight=next((each for each in evenings if each.on == today), None),
    )


def _with_year(
    site: SiteFacts, weather: WeatherSeries | None, today: date
) -> SiteFacts:
    """Return the site with what its record tells of its frosts and its heat."""
    return with_hottest_weeks(with_record_dates(site, weather, today), weather)


def _month_day(month: int | None, day: int | None) -> MonthDay | None:
    return MonthDay(month, day) if month and day else None


def site_facts(site: Site) -> SiteFacts:
    """Return a site row, and its local rules, as facts; its frosts are read apart."""
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
        watering_rules=tuple(
            WateringRule(
                start=MonthDay(rule.start_month, rule.start_day),
                end=MonthDay(rule.end_month, rule.end_day),
                weekdays=frozenset(map(int, rule.weekdays)),
                spares_hand_watering=rule.spares_hand_watering,
                spares_containers=rule.spares_containers,
                source=rule.source,
            )
            for rule in site.watering_rules.all()
        ),
        feed_product_name=site.feed_product_name,
        feed_nitrogen_percent=site.feed_nitrogen_percent,
        feed_density_g_per_ml=site.feed_density_g_per_ml,
        water_setback_m=site.water_setback_m,
        soil_test=_soil_test(site),
        hose_flow_l_per_min=site.hose_flow_l_per_min,
        is_water_salty=site.is_water_salty,
        has_high_water_table=site.has_high_water_table,
    )


def _soil_test(site: Site) -> SoilTest | None:
    if site.soil_tested_on is None:
        return None
    nitrogen = NitrogenAdvice(site.soil_nitrogen)
    return SoilTest(on=site.soil_tested_on, ph=site.soil_ph, nitrogen=nitrogen)


def _with_cold(
    facts: SiteFacts,
    site: Site,
    evenings: list[Evening],
    today: date,
    *,
    forgotten_on: date | None,
) -> SiteFacts:
    minima = typed_minima(site, today)
    pairs = night_pairs(site, today, minima).after(forgotten_on)
    return replace(
        facts,
        frost_nights=frost_nights(evenings, minima),
        cold_pocket=cold_pocket(pairs.spot_c, pairs.reference_c),
    )


def _trees(site: Site, today: date) -> list[Tree]:
    lives = Q(status=Tree.Status.ALIVE) | Q(ended_on__gt=today)
    stays = Stay.objects.filter(since__lte=today).order_by("since", "id")
    return list(
        site.trees.filter(lives, entered_on__lte=today)
        .order_by("id")
        .prefetch_related(Prefetch("stays", queryset=stays))
    )


def tree_facts(tree: Tree, today: date, kinds: Kinds) -> TreeFacts:
    """Return a tree row as facts; its stays must be prefetched."""
    return TreeFacts(
        id=tree.pk,
        name=tree.name,
        species=kinds.of_tree(tree),
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
        goal=Goal(tree.goal),
        drip_flow_l_per_min=_drip_flow(tree),
        drainage_hours=tree.drainage_hours,
        soil_ph=tree.soil_ph,
        water_distance_m=tree.water_distance_m,
        support=Support(tree.support),
        has_trunk_guard=tree.has_trunk_guard,
        is_grafted=tree.is_grafted,
        cultivar=tree.cultivar,
        rootstock=tree.rootstock,
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


def _drip_flow(tree: Tree) -> float | None:
    return tree.drip_l_per_h / MINUTES_PER_HOUR if tree.drip_l_per_h else None


def _standing_irrigation(tree: Tree) -> StandingIrrigation | None:
    if not tree.irrigation_litres or not tree.irrigation_weekdays:
        return None
    return StandingIrrigation(
        litres=tree.irrigation_litres,
        weekdays=frozenset(int(digit) for digit in tree.irrigation_weekdays),
        since=tree.irrigation_since,
        until=tree.irrigation_until,
    )


def _entries(site: Site, today: date) -> list[LogEntry]:
    """Return what stands in the log of trees, and what is forgotten of the place."""
    return list(
        LogEntry.objects.filter(
            Q(tree__isnull=False) | OF_PLACE, site=site, on__lte=today, voided_at=None
        )
        .select_related("task")
        .order_by("on", "id")
    )


def _log(
    entries: Iterable[LogEntry], trees: Iterable[Tree]
) -> tuple[tuple[WorkDone, ...], tuple[Observation, ...], tuple[Hold, ...]]:
    forgotten = forgotten_until(entries, trees)
    work, observations, holds = [], [], []
    for entry in entries:
        if entry.held_until is not None:
            holds.append(_hold(entry, entry.held_until))
        if entry.what in (LogEntry.What.DONE, LogEntry.What.SKIPPED):
            work.append(_work_done(entry))
        elif entry.kind in OBSERVATIONS:
            teaches_nothing = is_forgotten(entry, forgotten)
            if teaches_nothing and entry.kind == LEFT_OUT:
                continue
            observations.append(
                Observation(
                    tree_id=entry.tree_id or 0,
                    what=entry.kind,
                    on=entry.on,
                    value=entry.amount,
                    word=entry.word,
                    is_forgotten=teaches_nothing,
                )
            )
    return tuple(work), tuple(observations), tuple(holds)


def _hold(entry: LogEntry, until: date) -> Hold:
    return Hold(
        tree_id=entry.tree_id or 0,
        cause=HoldCause(entry.kind),
        on=entry.on,
        until=until,
        product=entry.product,
    )


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


def by_tree(items: Iterable[OfTree]) -> dict[int, tuple[OfTree, ...]]:
    """Group what was done, seen or held by its tree, in the order given."""
    groups: dict[int, list[OfTree]] = defaultdict(list)
    for item in items:
        groups[item.tree_id].append(item)
    return {tree_id: tuple(group) for tree_id, group in groups.items()}
