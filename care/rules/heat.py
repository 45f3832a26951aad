"""Heat: shade for pots, an early look at fresh trees, bark guarded from the sun."""

from datetime import date, timedelta

from care.facts import Place, Situation, WorkDone
from care.proposals import Proposal, Reason, Scalar
from care.science.hot_spells import (
    ALARM_C,
    DRY_ALARM_KPA,
    HotDay,
    hot_days,
    is_one_spell,
)
from care.science.pot_carrying import Carried, carried_by
from care.science.potting import pot_litres

KIND = "heat"
KEY, BARK_KEY = "next", "next/bark"

DAYS_AHEAD = 3
URGENT_DAYS = 1
FRESH_YEARS = 1.0
YOUNG_YEARS = 3.0
# Shade that was put up stays up through a spell, and a hot summer asks once.
SKIP_DAYS = 3
BARK_DAYS = 120  # a guard or paint lasts the summer; ours
PRUNED_DAYS = 60  # limbs bared longer ago have hardened or are shaded again; ours
BARED_SHARE = 0.1  # of the crown cut away, to bare limbs; ours
SMALL_POT_L = 20.0  # heats through within the day; common practice, no source
CANCEL_C = 37.8  # 100 degF: UC Master Gardeners put tree work off


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return what to do before the first forecast day of 35 degC, or of very dry air.

    For pots that stand outdoors, and for trees planted within the year unless their
    soil is full or they are watered today anyway; and a guard for bark that the sun
    reaches. Only readings and forecasts count.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    today = situation.today
    hot = hot_days(situation.weather, today, today + timedelta(days=DAYS_AHEAD))
    if not hot:
        return ()
    steps = (_prepare, _guard_bark)
    found = (step(situation, hot) for step in steps)
    return tuple(proposal for proposal in found if proposal is not None)


def _logged(situation: Situation, key: str) -> tuple[WorkDone, ...]:
    return tuple(work for work in situation.logged(KIND) if work.key == key)


def _is_at_risk(situation: Situation) -> bool:
    tree, today = situation.tree, situation.today
    if tree.in_container:
        return tree.place_on(today) is Place.OUTDOORS
    years = tree.years_since_planting(today)
    if years is None or not 0 <= years < FRESH_YEARS:
        return False
    water = situation.water
    return water is None or not (water.is_saturated or water.due_in_days == 0)


def _is_seen_to(situation: Situation, hot_on: date) -> bool:
    """Whether somebody prepared it for this spell, or said not now."""
    work = _logged(situation, KEY)
    if not work:
        return False
    last = work[-1]
    if last.what != "done":
        return (situation.today - last.on).days < SKIP_DAYS
    return is_one_spell(situation.weather, last.on, hot_on)


def _prepare(situation: Situation, hot: list[HotDay]) -> Proposal | None:
    tree, first = situation.tree, hot[0]
    if not _is_at_risk(situation) or _is_seen_to(situation, first.day):
        return None
    is_pot = tree.in_container
    return Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=KEY,
        action="shade_pots" if is_pot else "water_early",
        earliest=situation.today,
        due=first.day,
        latest=first.day,
        reason=Reason(
            "heat_pot" if is_pot else "heat_fresh",
            _facts(situation, hot),
            ("cooler_forecast", "pot_moved") if is_pot else ("cooler_forecast",),
        ),
        sources=("common_practice", "fao56", "osha_heat"),
        cautions=_cautions(situation, hot),
        effort_minutes=10 if is_pot else 5,
        is_urgent=_is_urgent(situation, first),
    )


def _is_urgent(situation: Situation, first: HotDay) -> bool:
    return (first.day - situation.today).days <= URGENT_DAYS


def _facts(situation: Situation, hot: list[HotDay]) -> tuple[tuple[str, Scalar], ...]:
    first = hot[0]
    litres = situation.tree.container_litres
    deficit = first.deficit_kpa
    return (
        ("maximum_c", round(first.maximum_c, 1)),
        ("hot_on", first.day),
        ("alarm_c", ALARM_C),
        ("deficit_kpa", None if deficit is None else round(deficit, 1)),
        ("dry_alarm_kpa", DRY_ALARM_KPA),
        ("is_dry", first.is_dry),
        ("hot_days", len(hot)),
        ("hottest_c", round(max(day.maximum_c for day in hot), 1)),
        ("planted_on", situation.tree.planted_on),
        ("is_small_pot", litres is not None and litres < SMALL_POT_L),
    )


def _guarding_people(hot: list[HotDay]) -> tuple[str, ...]:
    is_severe = max(day.maximum_c for day in hot) >= CANCEL_C
    severe = ("heat_put_off_work",) if is_severe else ()
    return ("heat_work_early", *severe, "heat_illness")


def _cautions(situation: Situation, hot: list[HotDay]) -> tuple[str, ...]:
    tree = situation.tree
    if not tree.in_container:
        return (*_guarding_people(hot), "not_when_soil_wet")
    by = carried_by(pot_litres(tree), tree.container_medium)
    lift = () if by is Carried.ONE else ("two_people_lift",)
    return (*_guarding_people(hot), "move_before_watering", *lift)


def _guard_bark(situation: Situation, hot: list[HotDay]) -> Proposal | None:
    """Return guarding bark that leaves do not shade: of young or freshly cut trees."""
    first, tree = hot[0], situation.tree
    bared_on = _bared_on(situation)
    is_bare = _is_young(situation) or bared_on is not None
    since = situation.today - timedelta(days=BARK_DAYS)
    said = any(work.on > since for work in _logged(situation, BARK_KEY))
    if tree.in_container or tree.has_trunk_guard or not is_bare or said:
        return None
    return Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=BARK_KEY,
        action="guard_bark",
        earliest=situation.today,
        due=first.day,
        latest=first.day,
        reason=Reason(
            "heat_bark",
            (*_facts(situation, hot), ("bared_on", bared_on)),
            ("cooler_forecast",),
        ),
        sources=("common_practice", "osha_heat"),
        cautions=_guarding_people(hot),
        effort_minutes=10,
    )


def _is_young(situation: Situation) -> bool:
    """Whether it is past the first year, in which its own task shades it, and young."""
    years = situation.tree.years_since_planting(situation.today)
    return years is not None and FRESH_YEARS <= years < YOUNG_YEARS


def _bared_on(situation: Situation) -> date | None:
    """Return when enough of the crown was last cut away to bare limbs, or ``None``."""
    since = situation.today - timedelta(days=PRUNED_DAYS)
    cuts = (
        work.on
        for work in situation.logged("pruning")
        if work.what == "done" and (work.amount or 0.0) >= BARED_SHARE
    )
    return max((on for on in cuts if on >= since), default=None)
