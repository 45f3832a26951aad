"""Waterings and litres to come, tree by tree and for a whole site: what a holiday asks.

Each course of the weather is run twice: once as if nobody watered, for the next
watering and the first day of stress, and once as if every watering were done on its
day, for how many there will be and how much they take.
"""

from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from care.facts import Array
from care.planning.ensemble import (
    LikelyAmount,
    LikelyDay,
    OrchardWaterings,
    WateringsAhead,
    Whole,
    fan_of,
    likely_amount,
    likely_day,
    soon,
)
from care.planning.fold import Ahead, dawn, fold_past, look_ahead
from care.planning.gather import Records
from care.planning.outlook import is_felt_dry, waiting_days
from care.planning.simulate import HORIZON_DAYS, PLANTS_AT_ONCE
from care.planning.tree_days import listen
from care.planning.water_scene import Run, Scene, group_trees, prepare, set_scene
from care.science.water_balance import Forcing, Stored, arrive, use

HOLIDAY_DAYS = 30


def waterings_ahead(
    records: Records,
    days: int = HOLIDAY_DAYS,
    tree_ids: Collection[int] | None = None,
) -> OrchardWaterings | None:
    """Return the waterings to come of a site's trees, today included.

    Parameters
    ----------
    records : Records
    days : int
        For how many days waterings and litres are counted, fewer where the weather
        ends sooner.
    tree_ids : collection of int, optional
        The trees that are asked for; all of the site by default.

    Returns
    -------
    OrchardWaterings or None
        ``None`` where no asked-for tree can be balanced. Members of a clump share one
        balance and carry equal litres; each counts as watered.
    """
    if records.weather is None:
        return None
    scene = set_scene(
        records.site,
        records.weather,
        records.today,
        HORIZON_DAYS,
        work=records.work,
        observations=records.observations,
    )
    groups = [
        members
        for members in group_trees(records.trees, records.today)
        if tree_ids is None or any(tree.id in tree_ids for tree in members)
    ]
    if scene is None or not groups:
        return None
    span = min(days, scene.futures.days)
    parts = [
        _run(prepare(scene, groups[begin : begin + PLANTS_AT_ONCE]), span)
        for begin in range(0, len(groups), PLANTS_AT_ONCE)
    ]
    return _compose(_Told(scene, span), parts)


@dataclass(frozen=True, slots=True)
class _Part:
    """What some plants need, course by course; arrays (courses, plants)."""

    run: Run
    due: Whole
    stress: Whole
    count: Whole
    litres: Array  # from the can
    by_day_l: Array  # (courses, days), of all of them


def _run(run: Run, span: int) -> _Part:
    scene, grove = run.scene, run.grove
    evening = fold_past(grove, run.start, scene.rows).stored
    ahead = look_ahead(grove, evening, scene.rows, scene.futures)
    due = _as_people_said(run, ahead)
    count, litres, by_day = _obey(run, evening, due, span)
    return _Part(run, due, ahead.latest, count, litres, by_day)


def _as_people_said(run: Run, ahead: Ahead) -> Whole:
    """Return the days of the next watering, put off or moved up by what was said."""
    due = ahead.due.copy()
    today = run.scene.today
    words = listen(run.plants, run.scene.work, run.scene.observations)
    for column, plant in enumerate(run.plants):
        if is_felt_dry(words[column], today):
            due[:, column] = 0
        else:
            held = waiting_days(words[column], plant, today)
            due[:, column] = np.maximum(due[:, column], held)
    return due


def _obey(
    run: Run, evening: Stored, first: Whole, span: int
) -> tuple[Whole, Array, Array]:
    """Return waterings and litres if each is done, and the litres of every day.

    Shapes (courses, plants) twice, and (courses, days).
    """
    grove, scene = run.grove, run.scene
    gross = np.array([1 / plant.efficiency for plant in run.plants])
    stored = Stored(
        *(np.broadcast_to(each, first.shape) for each in _parts_of(evening))
    )
    count = np.zeros(first.shape, dtype=np.int64)
    litres, by_day = np.zeros(first.shape), np.zeros((len(first), span))
    for offset in range(span):
        row, picks = scene.rows + offset, scene.futures.picks[:, offset, None]
        stored, given = dawn(grove, row, stored)
        day = grove.forcing(row, picks, given)
        morning = arrive(grove.zones, stored, day)
        thirsty = morning.is_thirsty(grove.zones.inner_capacity_l)
        thirsty &= ~grove.is_frozen(row, picks)
        now = (offset == first) | (thirsty & (offset > first))
        poured = np.where(now, grove.refill_l(morning.stored), 0.0)
        count += now
        litres += poured * gross
        by_day[:, offset] = (poured * gross).sum(axis=1)
        if now.any():
            morning = arrive(grove.zones, morning.stored, _watered(day, poured))
        stored = use(grove.zones, morning, day).stored
    return count, litres, by_day


def _parts_of(stored: Stored) -> tuple[Array, Array, Array]:
    return stored.inner_missing_l, stored.outer_missing_l, stored.warmth


def _watered(day: Forcing, poured: Array) -> Forcing:
    """Return the rest of a day on which water is poured; its rain has come already."""
    return replace(
        day, given_l=poured, rain_mm=np.zeros_like(poured), warming=np.zeros(1)
    )


@dataclass(frozen=True, slots=True)
class _Told:
    """Turns days and sums of courses into likely ones."""

    scene: Scene
    span: int

    @property
    def firm_until(self) -> date:
        """The last day that is observed or forecast."""
        letters = self.scene.series.origin
        last = max(letters.rfind("o"), letters.rfind("f"))
        return self.scene.series.start + timedelta(days=last)

    def day(self, days: Whole) -> LikelyDay:
        today, futures = self.scene.today, self.scene.futures
        return likely_day(
            days,
            today,
            until=today + timedelta(days=futures.days - 1),
            firm_until=self.firm_until,
            members=futures.members,
        )

    def amount(self, amounts: Array | Whole) -> LikelyAmount:
        return likely_amount(
            np.asarray(amounts, dtype=np.float64),
            until=self.scene.today + timedelta(days=self.span - 1),
            firm_until=self.firm_until,
            members=self.scene.futures.members,
        )


def _compose(told: _Told, parts: list[_Part]) -> OrchardWaterings:
    trees = {ahead.tree_id: ahead for part in parts for ahead in _trees(told, part)}
    sizes = [[len(plant.trees) for plant in part.run.plants] for part in parts]
    count = sum(
        (part.count * np.array(size)).sum(axis=1)
        for part, size in zip(parts, sizes, strict=True)
    )
    by_day = np.sum([part.by_day_l for part in parts], axis=0)
    stress = np.min([part.stress.min(axis=1) for part in parts], axis=0)
    futures = told.scene.futures
    return OrchardWaterings(
        trees=trees,
        count=told.amount(np.asarray(count)),
        litres=told.amount(by_day.sum(axis=1)),
        litres_fan=fan_of(
            np.cumsum(by_day, axis=1),
            told.scene.today,
            firm_until=told.firm_until,
            members=futures.members,
        ),
        first_stress=told.day(stress),
    )


def _trees(told: _Told, part: _Part) -> list[WateringsAhead]:
    found = []
    for column, plant in enumerate(part.run.plants):
        due = part.due[:, column]
        next_one, chances = told.day(due), soon(due)
        count = told.amount(part.count[:, column])
        litres = told.amount(part.litres[:, column] / len(plant.trees))
        stress = told.day(part.stress[:, column])
        found += [
            WateringsAhead(tree.id, next_one, chances, told.span, count, litres, stress)
            for tree in plant.trees
        ]
    return found
