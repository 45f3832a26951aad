"""Run the rules over every tree of a site."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from datetime import timedelta

from care.facts import Situation, TreeFacts, WaterOutlook
from care.planning.gather import Records, observations_by_tree, work_by_tree
from care.planning.simulate import simulate_water
from care.proposals import Proposal
from care.rules import RULES


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
    work = work_by_tree(records.work)
    observations = observations_by_tree(records.observations)
    mates = _clump_mates(records.trees)
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
            clump_mates=mates.get(tree.id, ()),
        )
        for tree in sorted(records.trees, key=lambda tree: tree.id)
    ]


def _clump_mates(trees: tuple[TreeFacts, ...]) -> dict[int, tuple[int, ...]]:
    clumps: dict[int, list[int]] = defaultdict(list)
    for tree in trees:
        if tree.clump_id is not None:
            clumps[tree.clump_id].append(tree.id)
    return {
        tree_id: tuple(mate for mate in sorted(ids) if mate != tree_id)
        for ids in clumps.values()
        for tree_id in ids
    }


# Nobody is late with work that was due before the tree was entered.
GRACE = timedelta(days=14)


def since_entry(proposal: Proposal, tree: TreeFacts) -> Proposal:
    """Return the proposal with a window that does not end before the tree's entry.

    Only for work the state of the tree asks for: what the calendar ends, such as
    feeding before winter, ends for a newcomer too.
    """
    is_state_driven = proposal.key.split("/")[0] == "next"
    is_in_time = proposal.latest >= tree.entered_on + GRACE
    if proposal.is_urgent or is_in_time or not is_state_driven:
        return proposal
    return replace(
        proposal,
        earliest=max(proposal.earliest, tree.entered_on),
        due=max(proposal.due, tree.entered_on),
        latest=tree.entered_on + GRACE,
    )


def propose(records: Records) -> list[Proposal]:
    """Return everything the rules ask for, firm or projected, in a fixed order."""
    return [
        since_entry(proposal, situation.tree)
        for situation in situations(records)
        for _kind, rule in RULES
        for proposal in rule(situation)
    ]
