"""Run the rules over every tree of a site."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, timedelta

from care.facts import Situation, TreeFacts, WaterOutlook
from care.planning.agree import Keep, agree, bloom_without_cuts, days_of_cut_roots
from care.planning.allowed_days import keep_to_rules
from care.planning.gather import Records, by_tree
from care.planning.rains import rain_facts
from care.planning.simulate import simulate_water
from care.planning.stages import site_year, stages_by_tree
from care.proposals import Proposal
from care.rules import RULES
from care.science.crop import is_bearing
from care.science.inspection import inspection_group


def outlooks(records: Records) -> Mapping[int, WaterOutlook]:
    """Return the water outlook of every tree, empty where no weather is known."""
    if records.weather is None or not records.weather.covers(records.today):
        return {}
    return simulate_water(
        records.site,
        records.trees,
        records.weather,
        records.work,
        records.observations,
        records.today,
    )


def situations(records: Records) -> list[Situation]:
    """Return what the rules may look at, one value a tree, ordered by tree."""
    water = outlooks(records)
    work, observations = by_tree(records.work), by_tree(records.observations)
    holds = by_tree(records.holds)
    mates = _clump_mates(records.trees, records.today)
    walks, leads = _walks(records.trees, records.today)
    rains = rain_facts(records.weather, records.today)
    year = site_year(records.site, records.weather, records.today)
    stages = stages_by_tree(year, records.trees, work, observations)
    return [
        Situation(
            today=records.today,
            tree=tree,
            site=records.site,
            weather=records.weather,
            work=work.get(tree.id, ()),
            observations=observations.get(tree.id, ()),
            water=water.get(tree.id),
            typed_minimum_c=records.typed_minimum_c,
            tonight_evening_c=records.tonight.air_c if records.tonight else None,
            tonight_dew_point_c=(
                records.tonight.dew_point_c if records.tonight else None
            ),
            clump_mates=mates.get(tree.id, ()),
            look_mates=walks.get(tree.id, ()),
            is_look_lead=tree.id in leads,
            rains=rains,
            stages=stages[tree.id],
            holds=holds.get(tree.id, ()),
        )
        for tree in sorted(records.trees, key=lambda tree: tree.id)
    ]


def _clump_mates(
    trees: tuple[TreeFacts, ...], today: date
) -> dict[int, tuple[int, ...]]:
    clumps: dict[int, list[int]] = defaultdict(list)
    for tree in trees:
        if tree.clump_id is not None and not tree.is_planned(today):
            clumps[tree.clump_id].append(tree.id)
    return _others(clumps.values())


def _walks(
    trees: tuple[TreeFacts, ...], today: date
) -> tuple[dict[int, tuple[int, ...]], set[int]]:
    """Return the neighbours that one walk looks over by one list, and who asks for it.

    The first that bears, for young trees have fewer stages to be looked at.
    """
    walks: dict[object, list[TreeFacts]] = defaultdict(list)
    for tree in trees:
        if not tree.is_planned(today):
            kind = inspection_group(tree.species)
            walks[tree.block_id, kind, tree.in_container].append(tree)
    leads = {
        min(walk, key=lambda tree: (not is_bearing(tree, today), tree.id)).id
        for walk in walks.values()
    }
    return _others([tree.id for tree in walk] for walk in walks.values()), leads


def _others(groups: Iterable[list[int]]) -> dict[int, tuple[int, ...]]:
    """Return everybody else of a tree's group, by tree."""
    return {
        tree_id: tuple(mate for mate in sorted(ids) if mate != tree_id)
        for ids in groups
        for tree_id in ids
    }


# Nobody is late with work that was due before the tree was entered, or stood here.
GRACE = timedelta(days=14)
PLANTING = "planting"
OF_WEATHER = frozenset({"cold", "freeze", "heat"})  # no night waits for a newcomer


def since_entry(proposal: Proposal, tree: TreeFacts) -> Proposal:
    """Return the proposal with a window that does not end before the tree was there.

    Only for work the state of the tree asks for: what the calendar ends, such as
    feeding before winter, ends for a newcomer too.
    """
    there = max(tree.entered_on, tree.planted_on or tree.entered_on)
    if proposal.latest >= there + GRACE:
        return proposal
    is_state_driven = proposal.key.split("/")[0] == "next"
    is_of_weather = proposal.kind in OF_WEATHER
    if is_of_weather or proposal.is_urgent or not is_state_driven:
        return proposal
    return replace(
        proposal,
        earliest=max(proposal.earliest, there),
        due=max(proposal.due, there),
        latest=there + GRACE,
    )


def propose(records: Records) -> list[Proposal]:
    """Return everything the rules ask for, firm or projected, in a fixed order.

    A tree that is still to be planted asks for its planting alone.
    """
    return [
        proposal
        for situation in situations(records)
        for proposal in agree(
            _asked(situation),
            records.today,
            holds=situation.holds,
            bloom=bloom_without_cuts(situation),
            roots_cut=days_of_cut_roots(situation),
            keep=_keeper(situation),
        )
    ]


def _keeper(situation: Situation) -> Keep | None:
    """Return what moves pouring water to allowed days, where any local rule is known."""
    if not situation.site.watering_rules:
        return None
    return lambda proposal, is_free: keep_to_rules(proposal, situation, is_free)


def _asked(situation: Situation) -> list[Proposal]:
    """Return what the rules ask for one tree, each without a look at the others."""
    is_planned = situation.tree.is_planned(situation.today)
    return [
        since_entry(proposal, situation.tree)
        for kind, rule in RULES
        if kind == PLANTING or not is_planned
        for proposal in rule(situation)
    ]
