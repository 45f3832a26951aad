"""The stages of this care year by species, over all trees of a site."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from care.facts import Situation, Stage, StageDay
from care.planning.gather import Records, by_tree
from care.planning.stages import site_year, stages_by_tree
from care.science.season import season_of
from orchard.catalogue.search import called

BASES = ("seen", "heat", "months")


@dataclass(frozen=True, slots=True)
class StageSpan:
    """The first and last tree's day of a stage, of those on the best known basis."""

    first: date
    last: date
    basis: str


@dataclass(frozen=True, slots=True)
class SpeciesYear:
    """One species; leaf drop is the one that ends this year's growth."""

    name: str
    stages: Mapping[Stage, StageSpan]


def stages_by_species(records: Records) -> list[SpeciesYear]:
    """Return the stages of the care year that holds today, species by name.

    Trees still to be planted are left out.
    """
    today, southern = records.today, records.site.is_southern
    season = season_of(today, southern=southern)
    trees = [tree for tree in records.trees if not tree.is_planned(today)]
    stages = stages_by_tree(
        site_year(records.site, records.weather, today),
        trees,
        by_tree(records.work),
        by_tree(records.observations),
    )
    kinds: dict[str, list[Situation]] = defaultdict(list)
    for tree in trees:
        known = Situation(today, tree, records.site, None, stages=stages[tree.id])
        kinds[called(tree.species.name)].append(known)
    return [
        SpeciesYear(name, _spans(trees_of_kind, season))
        for name, trees_of_kind in sorted(kinds.items())
    ]


def _spans(trees: list[Situation], season: int) -> dict[Stage, StageSpan]:
    found = {}
    for stage in Stage:
        days = [day for tree in trees if (day := tree.stage_day(stage, season))]
        if days:
            found[stage] = _span(days)
    return found


def _span(days: list[StageDay]) -> StageSpan:
    basis = min((day.basis for day in days), key=BASES.index)
    on = [day.on for day in days if day.basis == basis]
    return StageSpan(min(on), max(on), basis)
