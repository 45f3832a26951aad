"""Weeding: a ring without grass, its edge kept, and no trimmer near young bark."""

from datetime import date, timedelta

from care.facts import Situation
from care.proposals import Proposal, Reason, Scalar
from care.science.growing_season import growing_season, next_turn
from care.science.mulch import tree_ring_m
from care.science.season import Window

KIND = "weeding"
KEY = "next"
EDGE = "next/edge"
GUARD = "next/guard"

YOUNG_YEARS = 3.0  # common practice, no source: until then grass costs most growth
# Common practice, no source: four to six weeks in growth, mulch holds weeds back; a
# grown tree bears grass better.
BETWEEN_DAYS = {"grass": 28, "bare": 28, "mulch": 42}
BETWEEN_DAYS_GROWN = 56
AFTER_PLANTING_DAYS = 28
EARLY_DAYS = 7
WINDOW_DAYS = 21
EFFORT_FIXED_MINUTES = 5
EFFORT_MINUTES_PER_M = 5  # a metre across the ring; no source

# Common practice, no source: an edge is cut anew in spring, summer and autumn; a guard
# is looked at in spring and autumn, before it binds the bark.
EDGE_DAYS = 91
EDGE_MINUTES_PER_M = 3
GUARD_DAYS = 14
GUARD_WINDOW_DAYS = 42
GUARD_LOOK_DAYS = 182
GUARD_SKIPPED_DAYS = 365

Facts = tuple[tuple[str, Scalar], ...]


def propose(situation: Situation) -> tuple[Proposal, ...]:
    """Return the next weeding of the ring, cut of its edge, and care of its guard.

    Weeding and edging in the growing season only, for trees in the ground that are
    younger than three years or stand in grass; never for pots or before planting. A
    skip counts like the work: whoever looked has decided.

    Parameters
    ----------
    situation : Situation
        One tree on one morning.
    """
    tree = situation.tree
    years = tree.years_since_planting(situation.today)
    if tree.in_container or (years is not None and years < 0):
        return ()
    season = growing_season(situation)
    return (
        *_weeding(situation, season),
        *_edging(situation, season),
        *_guard(situation),
    )


def _is_young(situation: Situation) -> bool:
    years = situation.tree.years_since_planting(situation.today)
    return years is not None and years < YOUNG_YEARS


def _last(situation: Situation, key: str) -> date | None:
    """Return the day of the last work under a key; care no task asked for is weeding."""
    days = [work.on for work in situation.logged(KIND) if (work.key or KEY) == key]
    return days[-1] if days else None


def _ring_diameter_m(situation: Situation) -> float:
    tree = situation.tree
    if tree.mulch is not None and tree.mulch.ring_radius_m:
        return 2 * tree.mulch.ring_radius_m
    return tree_ring_m(tree, situation.today)


def _weeding(situation: Situation, season: Window) -> tuple[Proposal, ...]:
    has_rival = situation.tree.floor == "grass" or _is_young(situation)
    if not has_rival or situation.today not in season:
        return ()
    due = _weeding_due(situation, season)
    return () if due > season.end else (_weed(situation, due, season),)


def _between_days(situation: Situation) -> int:
    if not _is_young(situation):
        return BETWEEN_DAYS_GROWN
    return BETWEEN_DAYS.get(situation.tree.floor, max(BETWEEN_DAYS.values()))


def _weeding_due(situation: Situation, season: Window) -> date:
    """Return the day grass has grown back: since the last work, or since spring."""
    between = _between_days(situation)
    due = season.start + timedelta(days=between)
    planted, last = situation.tree.planted_on, _last(situation, KEY)
    if planted is not None:
        due = max(due, planted + timedelta(days=AFTER_PLANTING_DAYS))
    if last is not None:
        due = max(due, last + timedelta(days=between))
    # Weeds that nobody pulled are not late: they are asked for again in their turn.
    return next_turn(due, situation.today, between, WINDOW_DAYS)


def _weed(situation: Situation, due: date, season: Window) -> Proposal:
    tree, diameter_m = situation.tree, _ring_diameter_m(situation)
    years = tree.years_since_planting(situation.today)
    facts: Facts = (
        ("years", None if years is None else round(years, 1)),
        ("floor", tree.floor),
        ("between_days", _between_days(situation)),
        ("last_on", _last(situation, KEY)),
        ("ring_diameter_m", round(diameter_m, 2)),
        ("season_start", season.start),
        ("season_end", season.end),
    )
    code = "weed_young" if _is_young(situation) else "weed_grass"
    days = (due - timedelta(days=EARLY_DAYS), due, due + timedelta(days=WINDOW_DAYS))
    minutes = EFFORT_FIXED_MINUTES + round(EFFORT_MINUTES_PER_M * diameter_m)
    return Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=KEY,
        action="weed",
        earliest=days[0],
        due=days[1],
        latest=days[2],
        reason=Reason(code, facts, ("weeding_logged", "mulch_laid")),
        sources=("common_practice",),
        cautions=("trimmer_off_bark", "keep_back_straight"),
        effort_minutes=minutes,
    )


def _edging(situation: Situation, season: Window) -> tuple[Proposal, ...]:
    """Return the next cut of the edge between ring and grass."""
    tree = situation.tree
    has_ring = tree.mulch is not None or _is_young(situation)
    if tree.floor == "bare" or not has_ring or situation.today not in season:
        return ()
    if tree.floor == "mulch" and not _is_young(situation):
        return ()
    last = _last(situation, EDGE)
    due = max(season.start, tree.planted_on or season.start)
    due += timedelta(days=AFTER_PLANTING_DAYS)
    if last is not None:
        due = max(due, last + timedelta(days=EDGE_DAYS))
    due = next_turn(due, situation.today, EDGE_DAYS, WINDOW_DAYS)
    if due > season.end:
        return ()
    diameter_m = _ring_diameter_m(situation)
    facts: Facts = (
        ("floor", tree.floor),
        ("between_days", EDGE_DAYS),
        ("last_on", last),
        ("ring_diameter_m", round(diameter_m, 2)),
    )
    edge = Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=EDGE,
        action="edge",
        earliest=due - timedelta(days=EARLY_DAYS),
        due=due,
        latest=due + timedelta(days=WINDOW_DAYS),
        reason=Reason("weed_edge", facts, ("weeding_logged",)),
        sources=("common_practice",),
        cautions=("trimmer_off_bark", "trimmer_throws", "edge_shallow"),
        effort_minutes=EFFORT_FIXED_MINUTES + round(EDGE_MINUTES_PER_M * diameter_m),
    )
    return (edge,)


def _guard(situation: Situation) -> tuple[Proposal, ...]:
    """Return fitting a trunk guard to a young tree, or the next look at the guard."""
    tree = situation.tree
    mine = [work for work in situation.logged(KIND) if work.key == GUARD]
    fitted = [work.on for work in mine if work.what == "done"]
    if tree.has_trunk_guard or fitted:
        since = max([tree.entered_on, *(work.on for work in mine)])
        due = since + timedelta(days=GUARD_LOOK_DAYS)
        return (_guard_task(situation, "look_guard", "weed_guard_look", due),)
    if not _is_young(situation):
        return ()
    due = max(tree.entered_on, tree.planted_on or tree.entered_on)
    due += timedelta(days=GUARD_DAYS)
    if mine:
        due = max(due, mine[-1].on + timedelta(days=GUARD_SKIPPED_DAYS))
    return (_guard_task(situation, "fit_guard", "weed_guard_fit", due),)


def _guard_task(situation: Situation, action: str, code: str, due: date) -> Proposal:
    tree = situation.tree
    facts: Facts = (
        ("floor", tree.floor),
        ("planted_on", tree.planted_on),
        ("last_on", _last(situation, GUARD)),
    )
    return Proposal(
        tree_id=tree.id,
        kind=KIND,
        key=GUARD,
        action=action,
        earliest=due,
        due=due,
        latest=due + timedelta(days=GUARD_WINDOW_DAYS),
        reason=Reason(code, facts, ("guard_entered",)),
        sources=("common_practice",),
        cautions=("guard_loose",),
        effort_minutes=EFFORT_FIXED_MINUTES,
    )
