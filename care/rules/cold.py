"""Cold: which pots come in tonight, what to cover, when pots may go out again."""

from dataclasses import dataclass, replace
from datetime import date, timedelta

from care.facts import Place, Situation
from care.proposals import Proposal, Reason, Scalar
from care.science.frost import (
    UNVERIFIED_SPECIES,
    bud_critical_c,
    must_protect,
    nights_ahead,
)
from care.science.season import (
    HARDY_LEAD_DAYS,
    is_frost_season,
    is_in_span,
    last_frost_in,
    season_of,
)

KIND = "cold"
KEY = "next"

YOUNG_YEARS = 3.0
NIGHTS_AHEAD = 2
OUT_NIGHTS = 5
LEAST_OUT_NIGHTS = 3
LATE_DAYS = 42  # before the first frost no pot goes out again; no source
OUT_MARGIN_C = 1.0  # warmer than the alarm, or pots go in and out; no source
# A figure nobody could check must not sound late: it is taken warmer by this much.
UNVERIFIED_MARGIN_C = 2.0
STAGE_DAYS = 21  # a bloom stage seen longer ago than this says nothing of today
COVERED_DAYS = 2
COVER_HEIGHT_M = 3.0  # common practice, no source: taller crowns are not covered
HEAVY_POT_L = 15.0  # wet mix, pot and plant near 23 kg, a lifting limit (from memory)
NOT_BLOOMING = frozenset({"", "dormant", "leaf_drop", "harvest", "none"})


@dataclass(frozen=True, slots=True)
class Limit:
    """A temperature the plant bears, and where the figure comes from."""

    threshold_c: float
    field: str
    source: str
    is_unverified: bool = False
    stage: str = ""

    def alarm_c(self, margin_c: float) -> float:
        """Return the minimum from which to act, before rounding slack."""
        extra = UNVERIFIED_MARGIN_C if self.is_unverified else 0.0
        return self.threshold_c + margin_c + extra


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return at most one task: bring in, cover, or take out again.

    Only readings, forecasts and a minimum somebody typed count; normals never alarm.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    tree, today = situation.tree, situation.today
    if tree.in_container and tree.place_on(today).is_indoors:
        return _move_out(situation)
    limit = _warmest(situation)
    if limit is None:
        return ()
    night = _first_cold(situation, limit)
    if night is None or _is_seen_to(situation, night[0]):
        return ()
    return (_protect(situation, limit, night),)


def _figure(situation: Situation, field: str, value: float | None) -> Limit | None:
    if value is None:
        return None
    species = situation.tree.species
    return Limit(value, field, species.source_of(field), field in species.unverified)


def _warmest(situation: Situation) -> Limit | None:
    """Return the limit that is met first as the night cools."""
    species = situation.tree.species
    if situation.tree.in_container:
        standing = _figure(situation, "move_in_temp_c", species.move_in_temp_c)
    else:
        standing = _in_ground(situation)
    limits = [limit for limit in (standing, _bloom(situation)) if limit is not None]
    margin_c = situation.site.frost_margin_c
    return max(limits, key=lambda limit: limit.alarm_c(margin_c), default=None)


def _in_ground(situation: Situation) -> Limit | None:
    """Return the young or grown tree's limit; unknown age counts as young.

    A grown tree's figure in the place of a young one's is too cold, hence unverified.
    """
    species = situation.tree.species
    years = situation.tree.years_since_planting(situation.today)
    young = _figure(situation, "damage_temp_young_c", species.damage_temp_young_c)
    grown = _figure(situation, "damage_temp_mature_c", species.damage_temp_mature_c)
    if years is None or years < YOUNG_YEARS:
        if young is None and grown is not None:
            return replace(grown, is_unverified=True)
        return young
    return young if grown is None else grown


def _bloom(situation: Situation) -> Limit | None:
    """Return what open buds bear, by the stage seen, or by month as a first guess."""
    species, today = situation.tree.species, situation.today
    since = today - timedelta(days=STAGE_DAYS)
    seen = [r.word for r in situation.observed("bloom_stage") if r.on >= since]
    if seen:
        return _at_stage(situation, seen[-1])
    if not _may_bloom_by_month(situation) or species.bloom_damage_temp_c is None:
        return None
    return Limit(
        species.bloom_damage_temp_c,
        "bloom_damage_temp_c",
        species.source_of("bloom_damage_temp_c"),
        "bloom_damage_temp_c" in species.unverified,
        "by_month",
    )


def _may_bloom_by_month(situation: Situation) -> bool:
    """Return whether the catalogue's months and the site allow open buds.

    The months hold for all climates: where the last frost is late, a bare tree still
    rests in the first of them, and its buds are as hardy as its wood.
    """
    species, site, today = situation.tree.species, situation.site, situation.today
    southern = site.is_southern
    if species.bloom is None or not is_in_span(today, species.bloom, southern=southern):
        return False
    frost = last_frost_in(season_of(today, southern=southern), site)
    if species.is_evergreen or frost is None:
        return True
    return today >= frost - timedelta(days=HARDY_LEAD_DAYS)


def _at_stage(situation: Situation, stage: str) -> Limit | None:
    species = situation.tree.species
    if stage in NOT_BLOOMING:
        return None
    critical = bud_critical_c(species.key, stage)
    if critical is not None:
        is_unverified = species.key in UNVERIFIED_SPECIES
        source = "psu_orchard_frost"
        return Limit(critical[0], "bud_stage", source, is_unverified, stage)
    found = _figure(situation, "bloom_damage_temp_c", species.bloom_damage_temp_c)
    if found is None:
        return None
    return Limit(
        found.threshold_c, found.field, found.source, found.is_unverified, stage
    )


def _nights(situation: Situation, ahead: int) -> tuple[tuple[date, float], ...]:
    """Return known minima; a typed one stands for tonight and the coming morning."""
    nights = nights_ahead(situation.weather, situation.today, ahead)
    typed_c = situation.typed_minimum_c
    if typed_c is None:
        return nights
    today = situation.today
    return ((today, typed_c), *(night for night in nights if night[0] > today))


def _first_cold(situation: Situation, limit: Limit) -> tuple[date, float] | None:
    """Return the first day and minimum at or below the limit and its margins."""
    alarm_c = limit.alarm_c(situation.site.frost_margin_c)
    for day, minimum_c in _nights(situation, NIGHTS_AHEAD):
        if must_protect(minimum_c, alarm_c, 0.0):
            return day, minimum_c
    return None


def _act_on(situation: Situation, cold_on: date) -> date:
    """Return the day to act: a minimum falls in the early morning of its day."""
    return max(situation.today, cold_on - timedelta(days=1))


def _is_seen_to(situation: Situation, cold_on: date) -> bool:
    """Whether the tree was protected already, or the person said not now."""
    act_on = _act_on(situation, cold_on)
    for work in situation.logged(KIND):
        if work.what != "done":
            if work.on == situation.today:
                return True
        elif not situation.tree.in_container and (
            act_on - work.on <= timedelta(days=COVERED_DAYS)
        ):
            return True
    return False


def _protect(situation: Situation, limit: Limit, night: tuple[date, float]) -> Proposal:
    tree, today = situation.tree, situation.today
    act_on = _act_on(situation, night[0])
    action, code, effort = _what_to_do(situation)
    return Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=KEY,
        action=action,
        earliest=today,
        due=act_on,
        latest=act_on,
        reason=Reason(
            code, _facts(situation, limit, night), ("warmer_forecast", "stage_seen")
        ),
        sources=(limit.source,),
        cautions=_cautions(situation, action),
        effort_minutes=effort,
        is_urgent=act_on == today,
    )


def _what_to_do(situation: Situation) -> tuple[str, str, int]:
    """Return action, reason code and minutes."""
    tree = situation.tree
    if tree.in_container:
        return "move_in", "cold_move_in", 10
    if tree.height_m is not None and tree.height_m > COVER_HEIGHT_M:
        return "check", "cold_too_tall_to_cover", 5
    return "cover", "cold_cover", 15


def _facts(
    situation: Situation, limit: Limit, night: tuple[date, float]
) -> tuple[tuple[str, Scalar], ...]:
    margin_c = situation.site.frost_margin_c
    return (
        ("minimum_c", round(night[1], 1)),
        ("cold_on", night[0]),
        ("threshold_c", round(limit.threshold_c, 1)),
        ("margin_c", margin_c),
        ("extra_margin_c", UNVERIFIED_MARGIN_C if limit.is_unverified else 0.0),
        ("alarm_c", round(limit.alarm_c(margin_c), 1)),
        ("figure", limit.field),
        ("stage", limit.stage),
        ("unverified", limit.is_unverified),
        ("is_typed", situation.typed_minimum_c is not None),
    )


def _cautions(situation: Situation, action: str) -> tuple[str, ...]:
    if action == "move_in":
        return ("move_before_watering", *_lift(situation))
    water = situation.water
    is_wet = water is not None and water.is_saturated
    soil = () if is_wet else ("water_soil_before_freeze",)
    if action == "check":
        return (*soil, "no_open_flame", "no_ladder_in_ice")
    return ("cover_to_ground", "uncover_by_day", *soil, "no_open_flame")


def _lift(situation: Situation) -> tuple[str, ...]:
    litres = situation.tree.container_litres
    is_heavy = litres is None or litres >= HEAVY_POT_L
    return ("two_people_lift",) if is_heavy else ()


def _move_out(situation: Situation) -> tuple[Proposal, ...]:
    """Return taking a pot out, once all forecast nights are warm enough."""
    today = situation.today
    limit = _warmest(situation)
    nights = _nights(situation, OUT_NIGHTS)
    if limit is None or len(nights) < LEAST_OUT_NIGHTS or _stays_in(situation):
        return ()
    if any(work.on == today for work in situation.logged(KIND)):
        return ()
    lowest_c = min(minimum_c for _, minimum_c in nights)
    alarm_c = limit.alarm_c(situation.site.frost_margin_c)
    if must_protect(lowest_c, alarm_c, OUT_MARGIN_C):
        return ()
    return (_out(situation, limit, (nights[-1][0], lowest_c)),)


def _stays_in(situation: Situation) -> bool:
    """Whether the pot should stay indoors whatever the week is like.

    Through the frost season and the weeks before it, for which no pot is carried out
    and in again; except a leaf-shedding tree in a heated room in the season itself:
    that one loses its winter chill and goes out as soon as the nights allow.
    """
    today, site = situation.today, situation.site
    if not is_frost_season(today, site):
        return is_frost_season(today + timedelta(days=LATE_DAYS), site)
    is_heated = situation.tree.place_on(situation.today) is Place.INDOORS_HEATED
    return not (situation.tree.species.leaf == "deciduous" and is_heated)


def _out(situation: Situation, limit: Limit, night: tuple[date, float]) -> Proposal:
    is_winter = is_frost_season(situation.today, situation.site)
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=KEY,
        action="move_out",
        earliest=situation.today,
        due=situation.today,
        latest=night[0],
        reason=Reason(
            "cold_move_out_for_chill" if is_winter else "cold_move_out",
            (*_facts(situation, limit, night), ("nights_to", night[0])),
            ("colder_forecast",),
        ),
        sources=(limit.source,),
        cautions=("harden_gradually", "move_before_watering", *_lift(situation)),
        effort_minutes=10,
    )
