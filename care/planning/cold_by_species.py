"""What cold each species of a site bears this morning, by its tree hurt first."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from care.facts import Situation
from care.planning.ensemble import FrostAhead
from care.planning.frost_ahead import frosts_ahead
from care.planning.gather import Records, by_tree
from care.planning.season_ahead import knows_the_year
from care.planning.stages import site_year, stages_by_tree
from care.science.cold_limits import Limit, warmest_limit
from orchard.catalogue.search import called


@dataclass(frozen=True, slots=True)
class SpeciesCold:
    """What the mildest cold that hurts one of a species, in pots or not, is [degC].

    ``has_buds`` where open buds or flowers decide, else it is the wood, or the pot.
    ``ahead`` tells when such a night is likely; ``None`` where nothing tells.
    """

    species: str
    in_container: bool
    bears_c: float
    has_buds: bool
    is_unverified: bool
    ahead: FrostAhead | None


def cold_by_species(records: Records) -> list[SpeciesCold]:
    """Return what each species bears this morning, those hurt first foremost.

    Trees still to be planted, and kinds of which no figure is known, are left out.
    """
    first: dict[tuple[str, bool], Limit] = {}
    for situation in _situations(records):
        limit, tree = warmest_limit(situation), situation.tree
        if limit is None:
            continue
        key = (called(tree.species.name), tree.in_container)
        if key not in first or limit.threshold_c > first[key].threshold_c:
            first[key] = limit
    ordered = sorted(first.items(), key=lambda row: (-row[1].threshold_c, row[0]))
    nights = _nights(records, [limit.threshold_c for _key, limit in ordered])
    return [
        SpeciesCold(
            species,
            in_container,
            limit.threshold_c,
            bool(limit.stage),
            limit.is_unverified,
            nights.get(limit.threshold_c),
        )
        for (species, in_container), limit in ordered
    ]


def _situations(records: Records) -> Iterator[Situation]:
    today = records.today
    trees = [tree for tree in records.trees if not tree.is_planned(today)]
    observations = by_tree(records.observations)
    stages = stages_by_tree(
        site_year(records.site, records.weather, today),
        trees,
        by_tree(records.work),
        observations,
    )
    for tree in trees:
        yield Situation(
            today=today,
            tree=tree,
            site=records.site,
            weather=records.weather,
            observations=observations.get(tree.id, ()),
            stages=stages[tree.id],
        )


def _nights(records: Records, bounds_c: Sequence[float]) -> dict[float, FrostAhead]:
    if records.weather is None or not knows_the_year(records.weather):
        return {}
    found = frosts_ahead(
        records.weather, records.site, records.today, sorted(set(bounds_c))
    )
    return {night.threshold_c: night for night in found}
