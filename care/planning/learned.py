"""What one tree's people taught the plan: thirst, bloom, growth, and the place's cold.

Each corrects one stated parameter within bounds, and each can be forgotten.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from care.facts import ColdPocket, Observation, Situation, TreeFacts, WaterOutlook
from care.planning.forgotten import FORGET_DEMAND, READINGS
from care.planning.gather import Records, by_tree
from care.planning.learned_bloom import LearnedBloom, learned_bloom
from care.science.demand_bank import FACTORS, TRUSTED
from care.science.feeding_record import Growth, growth
from care.science.frost_nights import MOST_POCKET_C, POCKET_NIGHTS
from care.science.season import season_of

__all__ = [
    "FACTORS",
    "MOST_POCKET_C",
    "POCKET_NIGHTS",
    "TRUSTED",
    "Learned",
    "LearnedBloom",
    "LearnedDemand",
    "LearnedGrowth",
    "Picked",
    "what_was_learned",
]


@dataclass(frozen=True, slots=True)
class LearnedDemand:
    """How much it drinks over what its crown says, as answers have it.

    ``factor`` is what they say and ``applied`` what the plan takes of it.
    """

    factor: float
    applied: float
    spread: float
    answers: int
    since: date | None
    is_trusted: bool


@dataclass(frozen=True, slots=True)
class LearnedGrowth:
    """Its last new shoots [mm], the band of its kind, and the share of feed they ask."""

    shoot_mm: float
    low_mm: float
    high_mm: float
    verdict: str
    share: float
    on: date


@dataclass(frozen=True, slots=True)
class Picked:
    """What was picked this season and last [kg], and on how many days of both."""

    this_kg: float
    last_kg: float
    days: int


@dataclass(frozen=True, slots=True)
class Learned:
    """Everything learned of one tree; ``None`` where nobody taught anything."""

    demand: LearnedDemand | None
    bloom: LearnedBloom | None
    growth: LearnedGrowth | None
    pocket: ColdPocket | None
    picked: Picked | None


def what_was_learned(
    records: Records, tree_id: int, outlook: WaterOutlook | None
) -> Learned:
    """Return what was learned of one living, planted tree.

    Parameters
    ----------
    records : Records
    tree_id : int
        One of the records' trees.
    outlook : WaterOutlook or None
        Its water this morning.
    """
    tree = next(one for one in records.trees if one.id == tree_id)
    observations = by_tree(records.observations)
    mates = {
        one.id
        for one in records.trees
        if one.id == tree_id or (tree.clump_id and one.clump_id == tree.clump_id)
    }
    answers = [seen for seen in records.observations if seen.tree_id in mates]
    return Learned(
        demand=_demand(outlook, answers),
        bloom=learned_bloom(records, tree),
        growth=_growth(records, tree, observations.get(tree_id, ())),
        pocket=records.site.cold_pocket,
        picked=_picked(records, observations.get(tree_id, ())),
    )


def _demand(
    outlook: WaterOutlook | None, answers: Iterable[Observation]
) -> LearnedDemand | None:
    known = {} if outlook is None else dict(outlook.working)
    if not known.get("demand_answers"):
        return None
    kinds = READINGS[FORGET_DEMAND]
    days = [seen.on for seen in answers if seen.what in kinds and not seen.is_forgotten]
    return LearnedDemand(
        factor=float(known["demand_found"]),
        applied=float(known["demand_factor"]),
        spread=float(known["demand_spread"]),
        answers=int(known["demand_answers"]),
        since=min(days, default=None),
        is_trusted=bool(known["is_demand_trusted"]),
    )


def _growth(
    records: Records, tree: TreeFacts, observations: tuple[Observation, ...]
) -> LearnedGrowth | None:
    situation = Situation(
        today=records.today,
        tree=tree,
        site=records.site,
        weather=None,
        work=tuple(work for work in records.work if work.tree_id == tree.id),
        observations=observations,
    )
    season = season_of(records.today, southern=records.site.is_southern)
    found: Growth | None = growth(situation, season)
    if found is None:
        return None
    return LearnedGrowth(
        shoot_mm=found.shoot_mm,
        low_mm=found.low_mm,
        high_mm=found.high_mm,
        verdict=found.verdict,
        share=found.share,
        on=found.on,
    )


def _picked(records: Records, observations: tuple[Observation, ...]) -> Picked | None:
    southern = records.site.is_southern
    season = season_of(records.today, southern=southern)
    picked = [
        (season_of(seen.on, southern=southern), seen)
        for seen in observations
        if seen.what == "harvest" and seen.value is not None
    ]
    by_season = {
        one: sum(seen.value or 0.0 for its, seen in picked if its == one)
        for one in (season, season - 1)
    }
    days = {seen.on for its, seen in picked if its in by_season}
    if not days:
        return None
    return Picked(by_season[season], by_season[season - 1], len(days))
