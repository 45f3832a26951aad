"""A figure of a kind, a cultivar or one tree: said otherwise, and taken back."""

import pytest
from django.urls import reverse

from orchard.catalogue.of_orchard import catalogue_of
from orchard.models import AuditEntry, OwnFigure, Person, Site
from tests.orchard.plain_page import one_error, page_of, text_of

SEEN = "Seen here in three winters"


@pytest.fixture
def owner(cast, client_of):
    return client_of(cast.owner)


@pytest.fixture
def at(site):
    return lambda name, *more: reverse(name, args=[site.slug, *more])


def read(response):
    return text_of(page_of(response))


def test_a_figure_of_a_kind_is_said_otherwise_and_taken_back(owner, at, site):
    path = at("kind_figure", "apple", "move_in_temp_c")
    before = read(owner.get(path))
    assert "So far: -7 °C, unverified: from memory" in before
    assert "From -12 °C to 15 °C." in before
    one_error(owner.post(path, {"value": "-3", "source": ""}), "Say where it comes")
    one_error(owner.post(path, {"value": "40", "source": SEEN}), "from -12 °C to 15 °C")
    kept = owner.post(path, {"value": "cold", "source": SEEN})
    one_error(kept, "not a number")
    assert f'value="{SEEN}"' in kept.content.decode()
    assert not OwnFigure.objects.exists()

    revision = Site.objects.get(pk=site.pk).revision
    owner.post(path, {"value": "-3.5", "source": SEEN})
    assert Site.objects.get(pk=site.pk).revision == revision + 1
    page = read(owner.get(at("kind", "apple")))
    assert "A pot comes in at: -3.5 °C (your own)" in page
    assert f"own: {SEEN}, owner, 2 July 2025" in page
    assert "Yours holds for every one of this kind" in read(owner.get(path))
    back = read(owner.post(path, {"take_back": "1"}, follow=True))
    assert "The catalogue's figure holds again." in back
    assert not OwnFigure.objects.exists()
    whats = AuditEntry.objects.values_list("what", flat=True)
    assert {"own_figure_set", "own_figure_taken_back"} <= set(whats)


def test_two_of_a_pair_never_contradict_each_other(owner, at, site):
    least = at("kind_figure", "apple", "chill_hours_min")
    most = at("kind_figure", "apple", "chill_hours_max")
    refused = owner.post(least, {"value": "1100", "source": SEEN})
    one_error(refused, "must not be above")
    refused = owner.post(most, {"value": "200", "source": SEEN})
    one_error(refused, "must not be below")
    one_error(owner.post(most, {"value": "1200.5", "source": SEEN}), "whole number")
    owner.post(most, {"value": "1200", "source": SEEN})
    owner.post(least, {"value": "1100", "source": SEEN})
    told = read(owner.post(most, {"take_back": "1"}, follow=True))
    assert "Not taken back. It must not be below" in told
    assert OwnFigure.objects.count() == 2


@pytest.mark.parametrize(
    ("figure", "typed", "stored"),
    [
        ("self_fruitful", "partial", "partial"),
        ("bloom_start_month", "10", "4"),
        ("prune_months", ["7", "8"], "1;2"),
        ("mature_height_m", "10 ft", "3.048"),
        ("usda_zone_min", "4b", "4b"),
        ("pollination_note", "With the crab next door", "With the crab next door"),
    ],
)
def test_every_sort_of_figure_is_stored_as_the_table_writes_it(
    owner, at, site, cast, figure, typed, stored
):
    Site.objects.filter(pk=site.pk).update(latitude_deg=-33.0)
    Person.objects.filter(pk=cast.owner.pk).update(units="us")
    path = at("kind_figure", "apple", figure)
    shown = page_of(owner.get(path))
    assert shown.xpath("//*[@name='value']")
    response = owner.post(path, {"value": typed, "source": SEEN})
    assert response.status_code == 302
    assert OwnFigure.objects.get().value == stored
    refused = owner.post(path, {"value": "99z", "source": SEEN})
    if figure != "pollination_note":
        assert refused.status_code == 200
        assert OwnFigure.objects.get().value == stored


def test_names_and_warnings_stay_as_they_are(owner, at):
    for figure in ("toxicity_note", "botanical_name", "nonsense"):
        assert owner.get(at("kind_figure", "apple", figure)).status_code == 404


def test_a_cultivar_and_a_tree_have_figures_of_their_own(owner, at, site, make_tree):
    tree, other = make_tree(cultivar="anna"), make_tree("Gala", cultivar="Gala")
    path = at("cultivar_figure", "apple", "apple_anna", "chill_hours_min")
    owner.post(path, {"value": "150", "source": SEEN})
    mine = at("tree_figure", tree.public_id, "damage_temp_mature_c")
    owner.post(mine, {"value": "-20", "source": SEEN})
    catalogue = catalogue_of(site.orchard)
    assert catalogue.cultivar("apple", "Anna").chill_hours_min == 150
    assert catalogue.of_tree(tree).chill_hours_min == 150
    assert catalogue.of_tree(tree).damage_temp_mature_c == -20
    assert catalogue.of_tree(other).chill_hours_min == 500
    assert catalogue.of_tree(other).damage_temp_mature_c == -30
    page = read(owner.get(at("tree", tree.public_id)))
    assert f"A grown one is damaged at-20 °Cown: {SEEN}, owner, 2 July 2025" in page
    assert "holds for this tree alone" in read(owner.get(mine))
    # "Anna" needs 300 h at most: the tree's own figure stands beside that.
    chill = at("tree_figure", tree.public_id, "chill_hours_min")
    refused = owner.post(chill, {"value": "400", "source": SEEN})
    one_error(refused, "must not be above")
    gone = at("cultivar_figure", "apple", "pear_hood", "bloom")
    assert owner.get(gone).status_code == 404
    flower = at("cultivar_figure", "apple", "apple_anna", "flower_type")
    assert owner.get(flower).status_code == 404
