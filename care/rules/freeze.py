"""Freeze: soil readied, ripe citrus picked, covers off again, damage waited out."""

from datetime import date, timedelta

from care.facts import Situation, WorkDone
from care.proposals import Proposal, Reason, Scalar
from care.science.citrus_freeze import (
    FruitFreeze,
    fruit_freezes,
    harvest_alert,
    has_ripe_fruit,
    is_young_citrus,
)
from care.science.cold_alarm import alarm_facts, first_alarm, night_facts
from care.science.cold_limits import warmest_limit
from care.science.cold_nights import (
    Night,
    hours_below,
    is_radiation_night,
    nights_ahead,
)
from care.science.cold_spells import (
    COVER_HEIGHT_M,
    frozen_night,
    growth_after,
    last_cold_morning,
    thaw_day,
)

KIND = "freeze"
SOIL_KEY, FRUIT_KEY = "next/soil", "next/fruit"
UNCOVER_KEY, DAMAGE_KEY = "next/uncover", "next/damage"
COVERING = "cold", "next"  # kind and key under which covers are logged

NIGHTS_AHEAD = 2
SOIL_NIGHTS = 3  # the soil is readied 48 to 24 hours ahead
FORGOTTEN_DAYS = 30  # a cover logged longer ago was taken off untold; ours
FRUIT_DAYS = 7  # one picking serves a cold spell; ours
READIED_DAYS = 7
COLDEST_FOR_SOIL_C = -10.0  # below, the soil's warmth saves nothing; no source
DRY_SHARE = 0.15  # of the store missing, to water before a frost; ours
DRY_SHARE_CLAY = 0.3  # clay that is moist already is left alone
CLAYS = frozenset({"silty_clay", "clay"})
GROWTH_WAIT_DAYS = 28  # new growth tells live from dead wood; ours
LOOK_DAYS = 60
FIRM_DAYS = 14


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return what goes before and after a freeze: at most one task a key.

    Only readings, forecasts, the evening and a minimum somebody typed count; normals
    never alarm. Nothing for pots that stand indoors.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    tree = situation.tree
    if tree.in_container and tree.place_on(situation.today).is_indoors:
        return ()
    steps = (_pick, _ready_soil, _uncover, _look)
    found = (step(situation) for step in steps)
    return tuple(proposal for proposal in found if proposal is not None)


def _logged(situation: Situation, key: str) -> tuple[WorkDone, ...]:
    return tuple(work for work in situation.logged(KIND) if work.key == key)


def _was_said(situation: Situation, key: str, days: int) -> bool:
    """Whether a task of a key was done or skipped in the last days."""
    since = situation.today - timedelta(days=days)
    return any(work.on > since for work in _logged(situation, key))


def _pick(situation: Situation) -> Proposal | None:
    """Return picking ripe citrus before a night that would freeze it.

    Never within the waiting days of a spray or of manure: frozen fruit is lost, not
    eaten.
    """
    is_safe = situation.tree.in_container or not has_ripe_fruit(situation)
    if is_safe or _was_said(situation, FRUIT_KEY, FRUIT_DAYS):
        return None
    hold = situation.held_until()
    for night in nights_ahead(situation, NIGHTS_AHEAD):
        if hold is not None and hold.until >= _evening_before(situation, night):
            continue
        for limit in fruit_freezes(situation.tree.species):
            if not harvest_alert(night.minimum_c, None, limit):
                continue  # too warm for any length of time
            hours = hours_below(situation, night, limit.below_c)
            if harvest_alert(night.minimum_c, hours, limit):
                return _pick_before(situation, night, limit, hours)
    return None


def _evening_before(situation: Situation, night: Night) -> date:
    """Return the day to act: a minimum falls in the early morning of its day."""
    return max(situation.today, night.day - timedelta(days=1))


def _pick_before(
    situation: Situation, night: Night, limit: FruitFreeze, hours: float | None
) -> Proposal:
    act_on = _evening_before(situation, night)
    facts: tuple[tuple[str, Scalar], ...] = (
        ("minimum_c", round(night.minimum_c, 1)),
        ("cold_on", night.day),
        ("threshold_c", round(limit.below_c, 1)),
        ("hours_needed", limit.hours),
        ("hours_below", None if hours is None else round(hours, 1)),
        *night_facts(night),
    )
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=FRUIT_KEY,
        action="pick_ripe",
        earliest=situation.today,
        due=act_on,
        latest=act_on,
        reason=Reason("freeze_pick_ripe", facts, ("warmer_forecast",)),
        sources=("uf_citrus_freeze", "lsu_citrus_freeze"),
        cautions=("waiting_days", "look_for_wires", "ladder"),
        effort_minutes=30,
        is_urgent=act_on == situation.today,
    )


def _ready_soil(situation: Situation) -> Proposal | None:
    """Return watering dry ground a day or two before a frost of clear, calm nights."""
    tree, today = situation.tree, situation.today
    if tree.in_container or _was_said(situation, SOIL_KEY, READIED_DAYS):
        return None
    alarm = first_alarm(situation, SOIL_NIGHTS)
    if alarm is None or alarm.night.day <= today or not _is_soil_dry(situation):
        return None
    if alarm.night.minimum_c < COLDEST_FOR_SOIL_C:
        return None
    is_clear = is_radiation_night(situation.weather, alarm.night.day)
    pull = is_clear and is_young_citrus(situation) and tree.mulch is not None
    return Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=SOIL_KEY,
        action="ready_soil",
        earliest=today,
        due=max(today, alarm.night.day - timedelta(days=2)),
        latest=alarm.night.day - timedelta(days=1),
        reason=Reason(
            "freeze_ready_soil",
            (*alarm_facts(situation, alarm), ("pull_mulch", pull)),
            ("warmer_forecast", "soil_feel", "rain"),
        ),
        sources=("common_practice", *(("lsu_citrus_freeze",) if pull else ())),
        cautions=("not_when_soil_wet", *(("mulch_back_before_frost",) if pull else ())),
        effort_minutes=10,
    )


def _is_soil_dry(situation: Situation) -> bool:
    """Whether the soil would take water; unknown counts as yes, and says to feel it."""
    water = situation.water
    if water is None:
        return True
    is_clay = situation.site.soil_texture in CLAYS
    least = (DRY_SHARE_CLAY if is_clay else DRY_SHARE) * water.store_l
    return not (water.is_saturated or water.is_frozen) and water.missing_l >= least


def _uncover(situation: Situation) -> Proposal | None:
    """Return taking a cover off by day, after the last cold night and above freezing."""
    on, today = _covered_on(situation), situation.today
    if on is None:
        return None
    # Covers are laid before dark: whatever came off on that day came off before.
    is_off = any(work.on > on for work in _logged(situation, UNCOVER_KEY))
    if is_off or (today - on).days > FORGOTTEN_DAYS:
        return None
    limit = warmest_limit(situation)
    margin_c = situation.site.frost_margin_c
    alarm_c = None if limit is None else limit.alarm_c(margin_c)
    cold_on = last_cold_morning(situation, on + timedelta(days=1), alarm_c)
    day = thaw_day(situation.weather, max(on + timedelta(days=1), cold_on or on))
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=UNCOVER_KEY,
        action="uncover",
        earliest=day,
        due=day,
        latest=day,
        reason=Reason(
            "freeze_uncover",
            (("covered_on", on), ("cold_on", cold_on), ("warm_on", day)),
            ("colder_forecast",),
        ),
        sources=("common_practice",),
        cautions=("frozen_wood_stays",),
        effort_minutes=5,
    )


def _covered_on(situation: Situation) -> date | None:
    """Return when a tree low enough for it was last covered, or ``None``."""
    tree, (kind, key) = situation.tree, COVERING
    is_tall = tree.height_m is not None and tree.height_m > COVER_HEIGHT_M
    if tree.in_container or is_tall:
        return None
    done = (w for w in situation.logged(kind) if w.key == key and w.what == "done")
    return max((work.on for work in done), default=None)


def _look(situation: Situation) -> Proposal | None:
    """Return looking how far a tree froze back, once new growth can tell."""
    hurt = frozen_night(situation)
    if hurt is None or any(w.on > hurt.day for w in _logged(situation, DAMAGE_KEY)):
        return None
    growth_on = growth_after(situation, hurt.day)
    until = growth_on + timedelta(days=GROWTH_WAIT_DAYS)
    latest = until + timedelta(days=LOOK_DAYS)
    if latest < situation.today:
        return None
    facts: tuple[tuple[str, Scalar], ...] = (
        ("frozen_on", hurt.day),
        ("minimum_c", round(hurt.minimum_c, 1)),
        ("threshold_c", round(hurt.threshold_c, 1)),
        ("growth_on", growth_on),
        ("no_pruning_until", until),
    )
    return Proposal(
        tree_id=situation.tree.id,
        kind=KIND,
        key=DAMAGE_KEY,
        action="look_at_damage",
        earliest=until,
        due=until,
        latest=latest,
        reason=Reason("freeze_look_at_damage", facts, ("stage_seen",)),
        sources=("common_practice",),
        cautions=("frozen_wood_stays",),
        is_firm=until <= situation.today + timedelta(days=FIRM_DAYS),
    )
