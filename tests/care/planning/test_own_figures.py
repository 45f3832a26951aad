"""An orchard's own figures reach the plan, the words beside it, and one tree alone."""

from datetime import timedelta

import pytest

from care.actions.watered import water_all
from care.models import Task
from care.planning.gather import gather
from care.planning.kinds import kinds_of
from care.planning.plan_site import plan_site
from care.planning.water_ahead import tree_water
from care.views.chill_need_words import needs_of
from care.views.references import references
from care.views.steps import steps_of
from care.views.tree_state import tree_state
from orchard.actions.own_kinds import add_species, set_figure, take_back_figure
from orchard.actions.weather import set_normals, type_reading
from orchard.catalogue.of_orchard import FigureScope, catalogue_of
from orchard.models import Person, Site
from orchard.units import UnitSystem
from tests.care.planning.test_plan_site import DRY, NOW, dry_site
from tests.conftest import TODAY

__all__ = ["dry_site"]
SEEN = "Seen here in three winters"


@pytest.fixture
def say(site):
    """Write an own figure as the owner does."""
    owner = Person.objects.get(username="owner")

    def write(figure, value, *, key="lemon", cultivar="", tree=None):
        scope = FigureScope(key, cultivar, tree)
        return set_figure(
            orchard=site.orchard,
            scope=scope,
            figure=figure,
            value=value,
            source=SEEN,
            person=owner,
            today=TODAY,
        )

    return write


@pytest.fixture
def pots(make_tree):
    facts = {"species_key": "lemon", "in_container": True, "container_litres": 50.0}
    facts["crown_width_m"] = 0.8
    return [make_tree(name, **facts) for name in ("Lemon", "Lime-like")]


def plan(site):
    fresh = Site.objects.select_related("orchard").get(pk=site.pk)
    return plan_site(fresh, TODAY, NOW)


def cold(site):
    plan(site)
    return set(
        Task.objects.filter(kind="cold", status="open").values_list(
            "tree__name", flat=True
        )
    )


def test_an_own_damage_temperature_changes_who_is_protected(site, pots, say):
    set_normals(site=site, months=DRY)
    night = {"tmin_c": 8.0}
    type_reading(site=site, day=TODAY, values=night, person=None, issued_on=TODAY)
    assert cold(site) == set()
    say("move_in_temp_c", "9", tree=pots[0])
    assert cold(site) == {"Lemon"}
    task = Task.objects.get(kind="cold", status="open")
    species = catalogue_of(site.orchard).of_tree(pots[0])
    told = " ".join(one.text for one in references(task.sources, species))
    assert f"This orchard's own figure: {SEEN}, entered by owner." in told
    say("move_in_temp_c", "8.5")
    assert cold(site) == {"Lemon", "Lime-like"}
    scope, owner = FigureScope("lemon"), Person.objects.get(username="owner")
    take_back_figure(
        orchard=site.orchard, scope=scope, figure="move_in_temp_c", person=owner
    )
    assert cold(site) == {"Lemon"}


def test_an_own_crop_coefficient_changes_the_litres(dry_site, pots, say):
    water_all(
        site=dry_site,
        trees=pots,
        litres=20.0,
        on=TODAY - timedelta(days=2),
        person=None,
        now=NOW,
    )

    def litres(tree):
        records = gather(Site.objects.get(pk=dry_site.pk), TODAY)
        water = tree_water(records, tree.pk)
        return (water[0].use_l, water[0].missing_l)

    before = litres(pots[0])
    say("kc_mid", "0.40")
    say("kc_end", "0.40")
    say("kc_ini", "0.40")
    use_l, missing_l = litres(pots[0])
    assert use_l < before[0]
    assert missing_l < before[1]
    plan(dry_site)
    task = Task.objects.get(tree=pots[0], kind="watering", status="open")
    species = catalogue_of(dry_site.orchard).of_tree(pots[0])
    origins = {term.origin for step in steps_of(task, species) for term in step.terms}
    assert f"species table; this orchard's own figure, {SEEN}, owner" in origins


def test_a_cultivars_chill_is_the_one_that_is_shown(site, make_tree, say):
    set_normals(site=site, months=DRY)
    anna = make_tree(cultivar="Anna")
    plain = make_tree("Seedling", cultivar="of the yard")

    def shown():
        records = gather(Site.objects.get(pk=site.pk), TODAY)
        return [
            (need.name, need.hours)
            for need in needs_of(t.species for t in records.trees)
        ]

    named = "Apple \N{LEFT SINGLE QUOTATION MARK}Anna\N{RIGHT SINGLE QUOTATION MARK}"
    assert shown() == [
        ("Apple, cultivars that need least", 250),
        ("Apple, cultivars that need most", 1000),
        (f"{named}, if it needs least", 200),
        (f"{named}, if it needs most", 300),
    ]
    state = tree_state(anna, TODAY, UnitSystem.METRIC)
    told = {row.label: row.words for row in state.rows}["Chill"]
    assert "Anna\N{RIGHT SINGLE QUOTATION MARK} needs 200\N{EN DASH}300" in told
    say("chill_hours_min", "120", key="apple", cultivar="Anna")
    assert (f"{named}, if it needs least", 120) in shown()
    say("chill_hours_min", "280", key="apple", tree=anna)
    kinds = kinds_of(site.orchard)
    facts = kinds.of_tree(anna)
    assert (facts.chill_hours_min, facts.chill_hours_max) == (280, 300)
    assert facts.chill_of == ""
    assert kinds.of_tree(plain).chill_hours_max == 1000
    assert "chill_hours_min" not in facts.unverified
    assert kinds.cultivar("apple", "ANNA").chill_hours_min == 120


def test_kinds_of_ones_own_are_planned_and_asked_for_as_often(
    site, make_tree, say, django_assert_num_queries
):
    with django_assert_num_queries(3):
        kinds_of(site.orchard)
    owner = Person.objects.get(username="owner")
    names = {"common_name": "Medlar", "botanical_name": "Mespilus germanica"}
    row = add_species(
        orchard=site.orchard,
        values={**names, "like_key": "quince", "source": SEEN},
        person=owner,
    )
    tree = make_tree(species_key=row.key)
    say("mature_height_m", "4", key=row.key)
    with django_assert_num_queries(3):
        kinds = kinds_of(site.orchard)
    facts = kinds.species(row.key)
    assert (facts.name, facts.mature_height_m) == ("Medlar", 4)
    assert facts in kinds.all_species
    quince = kinds.species("quince")
    assert facts.kc_mid == quince.kc_mid
    assert "move_in_temp_c" in facts.unverified  # borrowed from memory is no better
    assert facts.source_of("mature_height_m") == f"own: {SEEN}"
    plan(site)
    assert Task.objects.filter(tree=tree).exists()
    with pytest.raises(KeyError):
        kinds.species("no such kind")
    site.trees.update(species_key="gone", planted_on=TODAY - timedelta(days=400))
    with pytest.raises(KeyError):
        kinds.of_tree(site.trees.get())
