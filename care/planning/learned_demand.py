"""What people's answers say of how much each plant drinks.

For plants of which anybody felt the soil, or saw water run out below or not, the past
is folded once for every factor of demand that the bank holds; all others cost nothing.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from datetime import date

import numpy as np

from care.facts import Array, Observation
from care.planning.fold import Grove, given_on
from care.planning.futures import Whole
from care.planning.root_zones import Plant
from care.planning.tree_days import TreeDays
from care.science.demand_bank import (
    FACTORS,
    WORDS,
    DemandEstimate,
    after_draining,
    after_feeling,
    after_keeping,
    estimate,
    prior,
)
from care.science.water_balance import RootZones, Stored, arrive, use

PLANTS_AT_ONCE = 30  # times seventeen hypotheses, in the processor's cache
POURED = {"drained_after_l": after_draining, "not_drained_l": after_keeping}


@dataclass(frozen=True, slots=True)
class Learned:
    """What is believed of one plant's demand after so many answers."""

    demand: DemandEstimate
    answers: int


NOTHING = Learned(DemandEstimate(factor=1.0, spread=0.0), answers=0)


def _is_answer(seen: Observation) -> bool:
    if seen.is_forgotten:
        return False
    if seen.what == "soil_feel":
        return seen.word in WORDS
    return seen.what in POURED and seen.value is not None


def _answers(
    plants: Sequence[Plant], observations: Sequence[Observation], first: date
) -> dict[int, dict[int, list[Observation]]]:
    """Return answers by plant and row, in one order whatever came in."""
    columns = {tree.id: c for c, plant in enumerate(plants) for tree in plant.trees}
    found: dict[int, dict[int, list[Observation]]] = defaultdict(dict)
    order = sorted(
        filter(_is_answer, observations),
        key=lambda s: (s.on, s.what, s.tree_id, s.word, s.value or 0.0),
    )
    for seen in order:
        column, row = columns.get(seen.tree_id), (seen.on - first).days
        if column is None or row < 0 or not _stands(plants[column], seen.on):
            continue
        found[column].setdefault(row, []).append(seen)
    return found


def _stands(plant: Plant, day: date) -> bool:
    return plant.chief.planted_on is None or plant.chief.planted_on <= day


def _columns_of(days: TreeDays, columns: Whole) -> TreeDays:
    picked = {f.name: getattr(days, f.name)[:, columns] for f in fields(days)}
    return TreeDays(**picked)


def _hypotheses(grove: Grove, columns: Whole) -> Grove:
    """Return a grove in which each plant stands once for every factor of demand."""
    wide = np.repeat(columns, len(FACTORS))
    zones = {f.name: getattr(grove.zones, f.name)[wide] for f in fields(RootZones)}
    return replace(
        grove,
        zones=RootZones(**zones),
        drinking_m2=grove.drinking_m2[wide] * np.tile(FACTORS, len(columns)),
        fixed_radius_m=grove.fixed_radius_m[wide],
        is_evergreen=grove.is_evergreen[wide],
        days=_columns_of(grove.days, wide),
        leaf=replace(
            grove.leaf,
            kc=grove.leaf.kc[:, wide],
            is_leafless=grove.leaf.is_leafless[:, wide],
        ),
        runoff=replace(grove.runoff, ground=grove.runoff.ground[wide]),
    )


def _after(
    weights: Array, missing_share: Array, seen: Observation, full: Array
) -> Array:
    if seen.what == "soil_feel":
        return after_feeling(weights, missing_share, seen.word)
    share = (seen.value or 0.0) / float(full[0])
    return POURED[seen.what](weights, missing_share, share)


def _learn(
    grove: Grove,
    start: Stored,
    rows: int,
    columns: Whole,
    answers: dict[int, dict[int, list[Observation]]],
) -> list[Learned]:
    bank = _hypotheses(grove, columns)
    wide = np.repeat(columns, len(FACTORS))
    stored = Stored(
        start.inner_missing_l[wide], start.outer_missing_l[wide], start.warmth[wide]
    )
    weights = [prior() for _column in columns]
    shape = (len(columns), len(FACTORS))
    full = bank.zones.inner_capacity_l.reshape(shape)
    last = max(row for column in columns for row in answers[int(column)])
    for row in range(min(last, rows) + 1):
        planted = bank.days.is_planted[row]
        stored = replace(
            stored,
            inner_missing_l=np.where(planted, stored.inner_missing_l, 0.0),
            outer_missing_l=np.where(planted, stored.outer_missing_l, 0.0),
        )
        share = stored.inner_missing_l.reshape(shape) / full
        for place, column in enumerate(columns):
            for seen in answers[int(column)].get(row, ()):
                weights[place] = _after(weights[place], share[place], seen, full[place])
        day = bank.forcing(row, bank.first_index + row, given_on(bank, row, stored))
        stored = use(bank.zones, arrive(bank.zones, stored, day), day).stored
    counts = [sum(map(len, answers[int(column)].values())) for column in columns]
    return [
        Learned(estimate(each), count)
        for each, count in zip(weights, counts, strict=True)
    ]


def learn_demand(
    plants: Sequence[Plant],
    grove: Grove,
    start: Stored,
    rows: int,
    *,
    observations: Sequence[Observation],
    first: date,
) -> tuple[Learned, ...]:
    """Return what is learned of each plant's demand up to this morning.

    Parameters
    ----------
    plants : sequence of Plant
    grove : Grove
        The plants ready to fold, at the demand of their crowns.
    start : Stored
        Evening before the first day.
    rows : int
        Days before today.
    observations : sequence of Observation
        Soil feels, and litres until it ran out below or did not; none later than
        today. What was forgotten teaches nothing.
    first : date
        The fold's first day.

    Returns
    -------
    tuple of Learned
        One a plant; a factor of 1 without any answer.
    """
    answers = _answers(plants, observations, first)
    learned = [NOTHING] * len(plants)
    asked = sorted(answers)
    for begin in range(0, len(asked), PLANTS_AT_ONCE):
        columns = np.array(asked[begin : begin + PLANTS_AT_ONCE])
        for column, each in zip(
            columns, _learn(grove, start, rows, columns, answers), strict=True
        ):
            learned[int(column)] = each
    return tuple(learned)
