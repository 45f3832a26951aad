"""From folded states to what a rule may look at: dates, litres and doubts."""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from care.facts import Array, Flags, TreeFacts, WaterOutlook
from care.planning.ensemble import Members, order_places, soon
from care.planning.fold import NEVER, Ahead, Past, Waterings
from care.planning.futures import Whole
from care.planning.learned_demand import Learned
from care.planning.rest_notice import Rest
from care.planning.root_zones import Plant
from care.planning.tree_days import Words
from care.science.water_balance import Morning

HISTORY_DAYS = 30
LONGEST_UNKNOWN_DAYS = 60
FULL_SHARE = 0.02  # of the store missing at most, to call it full; no source
WAIT_DAYS_POT = 1  # after a skip or a wet feel
WAIT_DAYS_GROUND = 2
LATER_AT_MOST = 6


@dataclass(frozen=True, slots=True)
class Dates:
    """When one plant needs water, in days from today; ``None`` beyond the horizon."""

    earliest: int | None
    due: int | None
    latest: int | None
    likely: tuple[int | None, int | None, int | None]
    chances: dict[int, float]  # of a need within so many days
    member: int  # the future that stands for the due day


def _or_none(day: int) -> int | None:
    return None if day >= NEVER else day


def _ordered(days: Whole) -> tuple[int, int, int]:
    """Return the 10, 50 and 90 % days."""
    sorted_days = np.sort(days)
    low, middle, high = (int(sorted_days[place]) for place in order_places(len(days)))
    return low, middle, high


def waiting_days(words: Words, plant: Plant, today: date) -> int:
    """Return the days to wait after a watering today, a skip or a wet feel."""
    wait = WAIT_DAYS_POT if plant.is_container else WAIT_DAYS_GROUND
    held = [0]
    if words.watered == today:
        held.append(1)
    if words.skipped is not None:
        held.append((words.skipped - today).days + wait)
    if words.feeling == "wet" and words.felt is not None:
        held.append((words.felt - today).days + wait)
    return max(held)


def is_felt_dry(words: Words, today: date) -> bool:
    """Whether a hand felt dry soil today or yesterday and nobody watered since."""
    if words.feeling != "dry" or words.felt is None:
        return False
    is_fresh = words.felt >= today - timedelta(days=1)
    return is_fresh and (words.watered is None or words.watered < words.felt)


def date_needs(
    ahead: Ahead,
    column: int,
    *,
    ordinary: Whole,
    plant: Plant,
    words: Words,
    today: date,
    if_watered_unseen: Ahead | None,
    if_rained_unseen: Ahead | None = None,
) -> Dates:
    """Return one plant's days from the first days of all its futures.

    Parameters
    ----------
    ahead : Ahead
        Shape (members, plants).
    column : int
        The plant's place in it.
    ordinary : array (members,)
        The members, the most ordinary first: it stands for others with the same day.
    plant, words, today
        For what people said: a wet feel or a skip puts it off by a day (pot) or two,
        a dry feel makes it due now.
    if_watered_unseen : Ahead or None
        The same with the watered store full today, for a plant of which nobody has
        spoken for long: it widens the late end and moves nothing else.
    if_rained_unseen : Ahead or None
        The same, where the rain of some days is unknown: it widens the likely days
        alone, for who may wait is not the tree's to guess.
    """
    due_days = ahead.due[:, column]
    low, due, high = _ordered(due_days)
    member = int(ordinary[due_days[ordinary] == due][0])
    earliest = _ordered(ahead.earliest[:, column])[1]
    latest = _ordered(ahead.latest[:, column])[1]
    if if_watered_unseen is not None:
        high = max(high, _ordered(if_watered_unseen.due[:, column])[2])
        unseen = _ordered(if_watered_unseen.latest[:, column])[1]
        latest = max(latest, unseen)
    if if_rained_unseen is not None:
        high = max(high, _ordered(if_rained_unseen.due[:, column])[2])
    held = 0
    if is_felt_dry(words, today):
        low = due = earliest = 0
    else:
        held = waiting_days(words, plant, today)
    low, due, high = (max(day, held) for day in (low, due, high))
    asked = np.maximum(due_days, held) if due else np.zeros_like(due_days)
    return Dates(
        earliest=_or_none(min(max(earliest, held), due)),
        due=_or_none(due),
        latest=_or_none(max(latest, due)),
        likely=(_or_none(min(low, due)), _or_none(due), _or_none(max(high, due))),
        chances=soon(asked),
        member=member,
    )


def _runs_by_itself(tree: TreeFacts, today: date) -> bool:
    plan = tree.standing_irrigation
    if plan is None or (plan.since is not None and plan.since > today):
        return False
    return plan.until is None or plan.until >= today


def days_without_word(
    plant: Plant, words: Words, past: Past, column: int, today: date
) -> int:
    """Return for how many days the state rests on the model alone.

    A word of anyone, a day on which rain filled the store, planting, or water that
    comes by itself all settle it.
    """
    if any(_runs_by_itself(tree, today) for tree in plant.trees):
        return 0
    filled = np.flatnonzero(past.is_filled[:, column])
    rows = len(past.is_filled)
    since_filled = rows - int(filled[-1]) if len(filled) else rows
    since = [since_filled, LONGEST_UNKNOWN_DAYS]
    if words.last is not None:
        since.append((today - words.last).days)
    return min(since)


@dataclass(frozen=True, slots=True)
class Today:
    """The state of all plants this morning; arrays (plants,)."""

    morning: Morning  # rain and watering of the day arrived
    missing_l: Array  # watering counted, rain not yet
    outer_missing_l: Array
    given_l: Array
    et0_mm: Array
    kc: Array
    root_radius_m: Array
    watered_radius_m: Array
    is_frozen: Flags
    is_leafless: Flags
    et0_method: str
    is_rain_known: bool
    is_water_table_up: bool


def _is_saturated(plant: Plant, now: Today, past: Past, column: int) -> bool:
    """Whether a slow soil or a pot is full and water came to it in the last days."""
    days = plant.wet_days
    if not days:
        return False
    recent = past.rain_l[-days:, column].sum() + past.given_l[-days:, column].sum()
    has_water = recent + now.given_l[column] > 0
    is_full = now.missing_l[column] < FULL_SHARE * plant.zone["inner_capacity_l"]
    return bool(has_water and is_full)


def _notes(plant: Plant, now: Today, learned: Learned) -> tuple[str, ...]:
    notes = plant.notes
    if learned.answers and not learned.demand.is_trusted:
        notes = (*notes, "demand_out_of_range")
    if now.is_water_table_up and plant.is_established and not plant.is_container:
        notes = (*notes, "water_table_within_reach")
    if now.et0_method == "hargreaves":
        notes = (*notes, "hargreaves_may_run_low")
    if not now.is_rain_known:
        notes = (*notes, "rain_unknown")
    if len(plant.trees) > 1:
        notes = (*notes, "shared_by_clump")
    return notes


def _history(
    now: Today, past: Past, column: int, today: date, share: float
) -> tuple[tuple[date, ...], tuple[float, ...]]:
    kept = past.missing_l[-HISTORY_DAYS:, column]
    days = (today - timedelta(days=len(kept) - i) for i in range(len(kept)))
    litres = (*(share * float(v) for v in kept), share * float(now.missing_l[column]))
    return (*days, today), litres


def compose_outlook(
    plant: Plant,
    column: int,
    *,
    now: Today,
    past: Past,
    dates: Dates,
    waterings: Waterings,
    unknown_days: int,
    today: date,
    learned: Learned,
    rest: Rest,
    members: Members,
    working: tuple[tuple[str, float | str | bool], ...],
) -> WaterOutlook:
    """Return one member's outlook; a clump's litres are shared out equally."""
    share = 1 / len(plant.trees)
    morning = now.morning
    capacity = plant.zone["inner_capacity_l"]
    wanted = float(morning.wanted_l[column])
    readily_inner = float(morning.depletion_p[column]) * capacity
    net = waterings.net_l[0] if waterings.net_l else 0.0
    history_days, history = _history(now, past, column, today, share)
    return WaterOutlook(
        is_container=plant.is_container,
        store_l=share * capacity,
        missing_l=share * float(now.missing_l[column]),
        outer_store_l=share * float(morning.outer_capacity_l[column]),
        outer_missing_l=share * float(now.outer_missing_l[column]),
        readily_available_l=share * float(morning.readily_available_l[column]),
        spare_l=share * float(morning.spare_l[column]),
        depletion_p=float(morning.depletion_p[column]),
        use_l=share * wanted,
        et0_mm=float(now.et0_mm[column]),
        et0_method=now.et0_method,
        kc=float(now.kc[column]),
        crown_area_m2=plant.crown_area_m2,
        stress_ks=float(morning.stress_ks[column]),
        water_net_l=share * net,
        water_gross_l=share * net / plant.efficiency,
        earliest_in_days=dates.earliest,
        due_in_days=dates.due,
        latest_in_days=dates.latest,
        likely_in_days=dates.likely,
        chances=tuple(dates.chances.items()),
        past_years=members.past_years,
        generated_years=members.generated,
        later_in_days=waterings.days[1 : LATER_AT_MOST + 1],
        later_net_l=tuple(share * v for v in waterings.net_l[1 : LATER_AT_MOST + 1]),
        rain_last_week_l=share * float(past.rain_l[-7:, column].sum()),
        rain_known=now.is_rain_known,
        is_saturated=_is_saturated(plant, now, past, column),
        is_established=plant.is_established,
        is_frozen=bool(now.is_frozen[column]),
        is_dormant=bool(now.is_leafless[column]),
        needs_twice_daily=plant.is_container and wanted > readily_inner,
        pot_too_small=plant.is_container and wanted > capacity,
        unknown_water_days=unknown_days,
        basin_area_m2=share * _watered_area_m2(plant, now, column),
        root_radius_m=_root_radius_m(plant, now, column),
        history_days=history_days,
        history_missing_l=history,
        notes=_notes(plant, now, learned),
        rest_probability=rest.probability,
        rest_since=rest.since,
        working=working,
    )


def _watered_area_m2(plant: Plant, now: Today, column: int) -> float:
    """Return the ground to pour on; a pot's is inside its rim and needs no figure."""
    if plant.is_container:
        return 0.0
    return float(np.pi * now.watered_radius_m[column] ** 2)


def _root_radius_m(plant: Plant, now: Today, column: int) -> float | None:
    """Return how far a new tree's roots reach; nobody follows an old one's."""
    if plant.is_established or plant.is_container:
        return None
    return float(now.root_radius_m[column])
