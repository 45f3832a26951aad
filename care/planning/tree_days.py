"""What reaches each plant on each day: roof, work and words.

Arrays of shape (days, plants). Days run from the fold's first day to the horizon's
last.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TypeVar

import numpy as np

from care.facts import (
    Array,
    Flags,
    Observation,
    Place,
    RainReach,
    TreeFacts,
    WorkDone,
)
from care.planning.gather import by_tree
from care.planning.root_zones import PLANTING_LAG_DAYS, Plant

POURED = ("drained_after_l", "not_drained_l")  # observations of a watered pot
RAIN_SHARE = {RainReach.YES: 1.0, RainReach.PARTLY: 0.5, RainReach.NO: 0.0}
HEATED_ET0_MM = 1.0  # a room's dry air and poor light; no source
FLUSHED = ("flushing", "done")  # salts washed out of a pot: it is full after that
CHECK_KEY = "next/check"  # feeling the soil is work too, but brings no water
UNHEATED_SHARE = 0.5  # of the demand outdoors; no source
Said = TypeVar("Said", WorkDone, Observation)


@dataclass(frozen=True, slots=True)
class TreeDays:
    """Shape (days, plants) throughout."""

    is_outdoors: Flags
    et0_share: Array  # of the demand outdoors that reaches the plant
    et0_fixed_mm: Array  # and what a room adds
    rain_share: Array
    given_l: Array  # net, from logs and standing irrigation
    is_refilled: Flags  # watered without an amount, or until it ran out below
    is_wet: Flags  # somebody felt the soil
    is_dry: Flags
    is_planted: Flags
    can_root: Flags  # the roots have left the ball


@dataclass(frozen=True, slots=True)
class Words:
    """What people said of one plant: the last day of each kind of word."""

    watered: date | None = None
    skipped: date | None = None
    checked: date | None = None
    felt: date | None = None
    feeling: str = ""

    @property
    def last(self) -> date | None:
        """The last day on which anybody said anything about its water."""
        said = (self.watered, self.skipped, self.checked, self.felt)
        return max((day for day in said if day), default=None)


def _is_watering(work: WorkDone) -> bool:
    return work.what == "done" and work.key != CHECK_KEY


def watering_work(work: Iterable[WorkDone], today: date) -> list[WorkDone]:
    """Return what is known of watering until today, in one order whatever came in."""
    kept = (
        each
        for each in work
        if each.on <= today
        and (each.kind == "watering" or (each.kind, each.what) == FLUSHED)
    )
    return sorted(kept, key=lambda w: (w.on, w.tree_id, w.key, w.what, w.amount or 0.0))


def listen(
    plants: Iterable[Plant],
    work: Iterable[WorkDone],
    observations: Iterable[Observation],
) -> list[Words]:
    """Return the last words about each plant; ``work`` as ``watering_work`` gives it.

    What was said before it was planted where it stands was of its pot.
    """
    done, seen = by_tree(work), by_tree(observations)
    return [_words(_since(plant, done), _since(plant, seen)) for plant in plants]


def _since(plant: Plant, said: Mapping[int, Sequence[Said]]) -> list[Said]:
    first = plant.chief.planted_on or date.min
    mine = (each for tree in plant.trees for each in said.get(tree.id, ()))
    return [each for each in mine if each.on >= first]


def _words(mine: Sequence[WorkDone], seen: Sequence[Observation]) -> Words:
    felt = sorted((each.on, each.word) for each in seen if each.what == "soil_feel")
    watered = [each.on for each in mine if _is_watering(each)]
    watered += [each.on for each in seen if each.what in POURED]
    skipped = [
        each.on for each in mine if each.what == "skipped" and each.key != CHECK_KEY
    ]
    other = [each.on for each in mine if each.key == CHECK_KEY]
    last_felt, feeling = felt[-1] if felt else (None, "")
    return Words(
        watered=max(watered, default=None),
        skipped=max(skipped, default=None),
        checked=max(other, default=None),
        felt=last_felt,
        feeling=feeling,
    )


def _has_moved(tree: TreeFacts) -> bool:
    """Whether the tree may ever have stood elsewhere than outdoors."""
    return tree.in_container and bool(tree.stays)


def _stays(tree: TreeFacts, first: date, count: int) -> list[Place]:
    return [tree.place_on(first + timedelta(days=day)) for day in range(count)]


def _standing_litres(tree: TreeFacts, first: date, count: int) -> Array:
    """Return the litres a timer or a neighbour's hose brings each day."""
    litres = np.zeros(count)
    plan = tree.standing_irrigation
    if plan is None:
        return litres
    for offset in range(count):
        day = first + timedelta(days=offset)
        has_begun = plan.since is None or day >= plan.since
        has_ended = plan.until is not None and day > plan.until
        if has_begun and not has_ended and day.weekday() in plan.weekdays:
            litres[offset] = plan.litres
    return litres


def _columns(plants: Sequence[Plant]) -> dict[int, int]:
    return {tree.id: c for c, plant in enumerate(plants) for tree in plant.trees}


def lay_out_days(
    plants: Sequence[Plant],
    first: date,
    count: int,
    *,
    work: Sequence[WorkDone],
    observations: Sequence[Observation],
) -> TreeDays:
    """Return what reaches each plant from ``first`` on, one row a day.

    Parameters
    ----------
    plants : sequence of Plant
    first : date
        The first row's day.
    count : int
        How many days.
    work : sequence of WorkDone
        Waterings as ``watering_work`` gives them.
    observations : sequence of Observation
        Until today.

    Returns
    -------
    TreeDays
    """
    shape = (count, len(plants))
    days = TreeDays(
        is_outdoors=np.ones(shape, dtype=bool),
        et0_share=np.ones(shape),
        et0_fixed_mm=np.zeros(shape),
        rain_share=np.ones(shape),
        given_l=np.zeros(shape),
        is_refilled=np.zeros(shape, dtype=bool),
        is_wet=np.zeros(shape, dtype=bool),
        is_dry=np.zeros(shape, dtype=bool),
        is_planted=np.ones(shape, dtype=bool),
        can_root=np.ones(shape, dtype=bool),
    )
    for column, plant in enumerate(plants):
        _write_place(days, column, plant, first)
        _write_planting(days, column, plant, first)
        for tree in plant.trees:
            litres = _standing_litres(tree, first, shape[0])
            days.given_l[:, column] += plant.efficiency * litres
    _write_work(days, plants, first, work)
    _write_words(days, plants, first, observations)
    return days


def _write_place(days: TreeDays, column: int, plant: Plant, first: date) -> None:
    reach = RAIN_SHARE[plant.chief.rain_reach]
    if not _has_moved(plant.chief):
        days.rain_share[:, column] = reach
        return
    places = _stays(plant.chief, first, len(days.given_l))
    indoors = np.array([place.is_indoors for place in places])
    heated = np.array([place is Place.INDOORS_HEATED for place in places])
    roofed = np.array([place is not Place.OUTDOORS for place in places])
    days.is_outdoors[:, column] = ~indoors
    days.et0_share[:, column] = np.where(
        heated, 0.0, np.where(indoors, UNHEATED_SHARE, 1.0)
    )
    days.et0_fixed_mm[:, column] = np.where(heated, HEATED_ET0_MM, 0.0)
    days.rain_share[:, column] = np.where(roofed, 0.0, reach)


def _write_planting(days: TreeDays, column: int, plant: Plant, first: date) -> None:
    planted_on = plant.chief.planted_on
    if planted_on is None:
        return
    offsets = np.arange(len(days.given_l)) - (planted_on - first).days
    days.is_planted[:, column] = offsets >= 0
    days.can_root[:, column] = offsets >= PLANTING_LAG_DAYS


def _write_work(
    days: TreeDays, plants: Sequence[Plant], first: date, work: Sequence[WorkDone]
) -> None:
    columns = _columns(plants)
    for each in work:
        row, column = (each.on - first).days, columns.get(each.tree_id)
        if column is None or not _is_watering(each) or not 0 <= row < len(days.given_l):
            continue
        if each.amount is None:
            days.is_refilled[row, column] = True
        else:
            days.given_l[row, column] += plants[column].efficiency * each.amount


def _write_words(
    days: TreeDays,
    plants: Sequence[Plant],
    first: date,
    observations: Sequence[Observation],
) -> None:
    columns = _columns(plants)
    for seen in observations:
        row, column = (seen.on - first).days, columns.get(seen.tree_id)
        if column is None or not 0 <= row < len(days.given_l):
            continue
        if seen.what == "soil_feel":
            days.is_wet[row, column] |= seen.word == "wet"
            days.is_dry[row, column] |= seen.word == "dry"
        elif seen.what == "drained_after_l":
            days.is_refilled[row, column] = True
        elif seen.what == "not_drained_l":
            # The same water may have been ticked as well, so it is not added to it.
            given_l = max(days.given_l[row, column], seen.value or 0.0)
            days.given_l[row, column] = given_l
