"""The plan of a site as facts: trees, wanted ones, neighbours', what stands there."""

from datetime import date

from django.core.exceptions import ObjectDoesNotExist
from django.db.models import Prefetch

from care.facts import (
    ClumpFacts,
    FeatureFacts,
    FeatureKind,
    LayoutFacts,
    PlantFacts,
    Point,
    Standing,
)
from care.planning.gather import tree_facts
from care.planning.kinds import Kinds, kinds_of
from care.planning.sizes import crown_width_m, tree_height_m
from care.science.rootstocks import grown_height_m, grown_spread_m
from orchard.models import Clump, Feature, Graft, NeighbourTree, Site, Tree, WantedTree


def layout_facts(site: Site, today: date) -> LayoutFacts:
    """Return what stands and lies on a site's plan, in a constant number of queries.

    Trees and neighbours' trees whose place nobody measured are among them, without
    one. Wanted trees count until they have a row among the trees.
    """
    kinds = kinds_of(site.orchard)
    plants = (
        *(_ours(tree, kinds, today) for tree in _trees(site, today)),
        *(_wanted(wanted, kinds) for wanted in _wanted_trees(site)),
        *(_neighbour(tree, kinds) for tree in site.neighbour_trees.all()),
    )
    return LayoutFacts(
        latitude_deg=site.latitude_deg,
        up_bearing_deg=_up_bearing_deg(site),
        plants=plants,
        features=tuple(_feature(feature) for feature in site.features.all()),
    )


def _up_bearing_deg(site: Site) -> float:
    try:
        return site.plan.up_bearing_deg
    except ObjectDoesNotExist:
        return 0.0


def _trees(site: Site, today: date) -> list[Tree]:
    living = Graft.objects.filter(grafted_on__lte=today, ended_on=None)
    return list(
        site.trees.filter(status=Tree.Status.ALIVE)
        .select_related("block", "clump")
        .prefetch_related("stays", Prefetch("grafts", queryset=living))
        .order_by("id")
    )


def _wanted_trees(site: Site) -> list[WantedTree]:
    return list(
        WantedTree.objects.filter(
            planting__site=site, planting__is_put_away=False, tree=None
        )
        .select_related("block")
        .order_by("id")
    )


def _place(x_m: float | None, y_m: float | None) -> Point | None:
    return None if x_m is None or y_m is None else (x_m, y_m)


def _ours(tree: Tree, kinds: Kinds, today: date) -> PlantFacts:
    facts = tree_facts(tree, today, kinds)
    width_m, _ = crown_width_m(facts, today)
    clump = _clump(tree.clump)
    grown_m = grown_spread_m(facts.species, tree.rootstock)
    spread_m = width_m if tree.in_container else grown_m
    limits = (tree.height_target_m, clump.height_limit_m if clump else None)
    return PlantFacts(
        ref=f"{Standing.OURS}-{tree.pk}",
        standing=Standing.OURS,
        name=tree.name,
        species=facts.species,
        cultivar_name=tree.cultivar,
        cultivar=kinds.cultivar(tree.species_key, tree.cultivar),
        grafts=tuple(
            (graft.cultivar, kinds.cultivar(graft.species_key, graft.cultivar))
            for graft in tree.grafts.all()
        ),
        graft_species_keys=tuple(graft.species_key for graft in tree.grafts.all()),
        sex=tree.sex,
        place_m=_place(tree.x_m, tree.y_m),
        in_container=tree.in_container,
        container_litres=tree.container_litres,
        planted_on=tree.planted_on,
        crown_width_m=width_m,
        height_m=tree_height_m(facts, width_m),
        grown_spread_m=spread_m,
        grown_height_m=_lowest(grown_height_m(facts.species, tree.rootstock), *limits),
        clump=clump,
        block_name=tree.block.name if tree.block else "",
    )


def _wanted(wanted: WantedTree, kinds: Kinds) -> PlantFacts:
    species = kinds.species(wanted.species_key)
    return PlantFacts(
        ref=f"{Standing.WANTED}-{wanted.pk}",
        standing=Standing.WANTED,
        name=wanted.name,
        species=species,
        cultivar_name=wanted.cultivar,
        cultivar=kinds.cultivar(wanted.species_key, wanted.cultivar),
        sex=wanted.sex,
        place_m=_place(wanted.x_m, wanted.y_m),
        in_container=wanted.in_container,
        container_litres=wanted.container_litres,
        planted_on=wanted.plant_on,
        grown_spread_m=grown_spread_m(species, wanted.rootstock),
        grown_height_m=grown_height_m(species, wanted.rootstock),
        block_name=wanted.block.name if wanted.block else "",
        is_pinned=wanted.is_pinned,
    )


def _neighbour(tree: NeighbourTree, kinds: Kinds) -> PlantFacts:
    species = kinds.species(tree.species_key)
    return PlantFacts(
        ref=f"{Standing.NEIGHBOUR}-{tree.pk}",
        standing=Standing.NEIGHBOUR,
        name=str(tree),
        species=species,
        cultivar_name=tree.cultivar,
        cultivar=kinds.cultivar(tree.species_key, tree.cultivar),
        place_m=_place(tree.x_m, tree.y_m),
        distance_m=tree.distance_m,
    )


def _clump(clump: Clump | None) -> ClumpFacts | None:
    if clump is None:
        return None
    return ClumpFacts(
        id=clump.pk,
        name=clump.name,
        is_hedge=clump.is_hedge,
        height_limit_m=clump.height_limit_m,
    )


def _lowest(*heights_m: float | None) -> float | None:
    known = [height for height in heights_m if height is not None]
    return min(known, default=None)


def _feature(feature: Feature) -> FeatureFacts:
    return FeatureFacts(
        id=feature.pk,
        kind=FeatureKind(feature.kind),
        name=str(feature),
        points_m=tuple((float(x), float(y)) for x, y in feature.points_m),
        height_m=feature.height_m,
        flow_l_per_min=feature.flow_l_per_min,
    )
