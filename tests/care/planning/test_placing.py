"""Places for a planting: who stays, who goes first, what the plan would look like."""

from dataclasses import replace

from care.facts import LayoutFacts
from care.facts.fit import KindFit, PlaceFit, Verdict
from care.planning.fit_site import SiteFit
from care.planning.placing import Goal, placing_plan, wanted_ref
from tests.care.planning.test_partners import Known
from tests.care.science.placing_cases import free, layout, spaced, wanted
from tests.care.science.pollination_cases import FUJI, GALA


def fitting(*kinds):
    """Return how kinds fit: (species, cultivar, verdict) each."""
    return SiteFit(
        site=None,
        fits=tuple(
            KindFit(species, cultivar, PlaceFit(verdict, None, ()), None)
            for species, cultivar, verdict in kinds
        ),
        years=None,
        room_m=None,
        kinds=None,
        layout=LayoutFacts(47.0, 0.0, (), ()),
    )


def test_pinned_trees_stay_and_others_are_left_alone():
    pinned = replace(spaced(1, 2.0, is_pinned=True), place_m=(0.0, 0.0))
    free_one, of_others = spaced(2, 2.0), spaced(3, 2.0)
    where = layout(free(4.0, 0.5), plants=(pinned, free_one, of_others))
    refs = {pinned.ref, free_one.ref}
    plan = placing_plan(where, Known(), refs, goal=Goal.MOST)
    assert [each.ref for each in plan.pinned] == [pinned.ref]
    assert [each.ref for each in plan.placed] == [free_one.ref]
    places = {plant.ref: plant.place_m for plant in plan.layout.plants}
    assert places[pinned.ref] == (0.0, 0.0)
    assert places[free_one.ref] == plan.placed[0].place_m
    assert places[of_others.ref] is None
    assert {row.plant for row in plan.partners} == refs
    assert plan.digest == placing_plan(where, Known(), refs, goal=Goal.MOST).digest
    smaller = layout(free(1.0, 0.5), plants=where.plants)
    assert plan.digest != placing_plan(smaller, Known(), refs, goal=Goal.MOST).digest


def test_what_fits_best_gets_the_only_place():
    fuji = wanted(1, "apple", cultivar=FUJI)
    gala = wanted(2, "apple", cultivar=GALA)
    fig = wanted(3, "fig")
    where = layout(free(1.0, 1.0), plants=(fuji, gala, fig))
    refs = {plant.ref for plant in where.plants}
    kinds = (
        (fuji.species, FUJI, Verdict.NO),
        (gala.species, GALA, Verdict.GOOD),
        (fig.species, None, Verdict.FAIR),
    )
    first = placing_plan(where, Known(), refs, goal=Goal.BEST, fit=fitting(*kinds))
    assert [each.ref for each in first.proposals] == [gala.ref, fig.ref, fuji.ref]
    assert [each.ref for each in first.placed] == [gala.ref]
    as_listed = placing_plan(where, Known(), refs, goal=Goal.BEST)
    assert [each.ref for each in as_listed.placed] == [fuji.ref]


def test_a_layout_names_wanted_trees_by_their_rows():
    assert wanted_ref(12) == "wanted-12"
