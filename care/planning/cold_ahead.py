"""What the cold rule reckons with, for pages: the nights ahead, what a tree bears."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from care.facts import Situation, StageDay, TreeFacts
from care.planning.gather import Records, by_tree, gather
from care.planning.stages import site_year, stages_by_tree
from care.science.cold_alarm import margin_of
from care.science.cold_limits import standing_limit, warmest_limit
from care.science.cold_nights import Night, forecast_nights, nights_ahead
from care.science.frost_nights import MOST_POCKET_C
from orchard.models import Site

__all__ = ["WIDEST_C", "ColdStand", "Night", "cold_nights", "cold_stand", "cold_stands"]

#: A forecast this much above a frost can still be one in the coldest of places.
WIDEST_C = MOST_POCKET_C


@dataclass(frozen=True, slots=True)
class ColdStand:
    """What a tree bears this morning [degC], and from where on the alarm rings.

    ``figure`` and ``stage`` name what decides; ``hardened_c`` is what the pot, or
    hardened wood, bears without regard to buds, where that is another figure.
    """

    bears_c: float
    alarm_c: float
    figure: str
    stage: str
    is_unverified: bool
    unhardened_c: float
    hardened_c: float | None


def cold_nights(site: Site, today: date, nights: int) -> tuple[Night, ...]:
    """Return the minima of today and the next nights as the cold rule takes them."""
    records = gather(site, today)
    if not records.trees:
        return forecast_nights(records.weather, records.site, today, nights)
    return nights_ahead(_situation(records, records.trees[0]), nights)


def cold_stand(records: Records, tree_id: int) -> ColdStand | None:
    """Return what one tree bears as the cold rule has it, ``None`` without a figure."""
    tree = next((one for one in records.trees if one.id == tree_id), None)
    return None if tree is None else _stand(_situation(records, tree, with_stages=True))


def cold_stands(records: Records) -> dict[int, ColdStand]:
    """Return what every tree bears that has a figure, by the tree's id."""
    stages = _stages(records, records.trees)
    found = {
        tree.id: _stand(_situation(records, tree, stages=stages[tree.id]))
        for tree in records.trees
    }
    return {tree_id: stand for tree_id, stand in found.items() if stand is not None}


def _stand(situation: Situation) -> ColdStand | None:
    limit = warmest_limit(situation)
    if limit is None:
        return None
    standing = standing_limit(situation)
    hardened_c = None if standing is None else standing.hardened_c
    is_other = hardened_c is not None and hardened_c != limit.threshold_c
    return ColdStand(
        bears_c=limit.threshold_c,
        alarm_c=limit.alarm_c(margin_of(situation, limit, None)),
        figure=limit.field,
        stage=limit.stage,
        is_unverified=limit.is_unverified,
        unhardened_c=limit.unhardened_c,
        hardened_c=hardened_c if is_other else None,
    )


def _stages(
    records: Records, trees: Iterable[TreeFacts]
) -> dict[int, tuple[StageDay, ...]]:
    year = site_year(records.site, records.weather, records.today)
    work = by_tree(records.work)
    return stages_by_tree(year, trees, work, by_tree(records.observations))


def _situation(
    records: Records,
    tree: TreeFacts,
    *,
    with_stages: bool = False,
    stages: tuple[StageDay, ...] = (),
) -> Situation:
    """Return what cold looks at of one tree; its kind teaches it when it blooms."""
    observations = by_tree(records.observations)
    if with_stages:
        kind = [one for one in records.trees if one.species.key == tree.species.key]
        stages = _stages(records, kind)[tree.id]
    tonight = records.tonight
    return Situation(
        today=records.today,
        tree=tree,
        site=records.site,
        weather=records.weather,
        observations=observations.get(tree.id, ()),
        typed_minimum_c=records.typed_minimum_c,
        tonight_evening_c=tonight.air_c if tonight else None,
        tonight_dew_point_c=tonight.dew_point_c if tonight else None,
        stages=stages,
    )
