"""The pages of kinds: finding one, what is known of it, adding and removing one."""

import pytest
from django.urls import reverse

from orchard.actions.places import change_site
from orchard.actions.trees import change_tree
from orchard.catalogue.of_orchard import catalogue_of
from orchard.models import AuditEntry, OwnCultivar, OwnSpecies
from tests.orchard.plain_page import one_error, page_of, text_of

MEDLAR = {
    "common_name": "Medlar",
    "botanical_name": "Mespilus germanica",
    "like": "quince",
    "source": "The nursery's label",
}


@pytest.fixture
def owner(cast, client_of):
    return client_of(cast.owner)


@pytest.fixture
def at(site):
    return lambda name, *more: reverse(name, args=[site.slug, *more])


def read(browser, path, **query):
    return text_of(page_of(browser.get(path, query)))


def test_a_kind_is_found_by_any_name_and_nearly_any_spelling(owner, at, make_tree):
    first = read(owner, at("kinds"))
    assert "What could you grow?" in first
    assert "sets fruit only with another, chill 250\N{EN DASH}1,000 h" in first
    make_tree(species_key="fig")
    assert "You grow Fig" in read(owner, at("kinds"))
    for typed in ("malus", "APPEL", "bramleys sedling"):
        assert "Malus domestica" in read(owner, at("kinds"), q=typed)
    cultivar = read(owner, at("kinds"), q="tropic sweet")
    assert "TropicSweetApple, ripe June" in cultivar
    none = read(owner, at("kinds"), q="zzzzq")
    assert "No kind is called \N{LEFT DOUBLE QUOTATION MARK}zzzzq" in none
    fragment = owner.get(at("kinds"), {"q": "fig"}, headers={"HX-Request": "true"})
    assert b"<html" not in fragment.content
    assert b"Ficus carica" in fragment.content


def test_the_list_asks_the_database_as_often_however_much_is_own(
    owner, at, site, cast, django_assert_num_queries
):
    owner.get(at("kinds"))
    with django_assert_num_queries(9):
        owner.get(at("kinds"), {"q": "apple"})
    for number in range(3):
        OwnSpecies.objects.create(
            orchard=site.orchard,
            key=f"own-kind-{number}",
            common_name=f"Apple of ours {number}",
            botanical_name=f"Malus {number}",
            like_key="apple",
            source="ours",
        )
    with django_assert_num_queries(9):
        owner.get(at("kinds"), {"q": "apple"})


def test_a_page_tells_every_figure_and_where_it_comes_from(owner, at, site):
    page = read(owner, at("kind", "apple"))
    assert "Winter chill it needs: 250\N{EN DASH}1,000 h" in page
    assert "read in ffsp.net" in page
    assert "A pot comes in at: -7 °C (unverified)" in page
    assert "It may ring an alarm only where it errs on the warm side" in page
    assert "Ripe: July\N{EN DASH}November" in page
    assert "Mind: Seeds, leaves and stems carry cyanogenic glycosides" in page
    assert "Anna, ripe June\N{EN DASH}July" in page
    assert "reported by gardenguides.com" in page
    assert "read in Utah State University Extension, fruit questions, no. 174" in page
    assert "Check the local list before you plant" in read(owner, at("kind", "pear"))
    assert "borrowed from" in read(owner, at("kind", "mango"))
    assert owner.get(at("kind", "no-such")).status_code == 404
    change_site(site=site, values={"latitude_deg": -33.0})
    assert "Ripe: January\N{EN DASH}May" in read(owner, at("kind", "apple"))


def test_a_kind_of_ones_own_begins_as_one_like_it(owner, at, site, make_tree):
    for change, words in (
        ({"common_name": "apples"}, "is here already: Apple"),
        ({"like": "quinze"}, "Did you mean Quince"),
        ({"source": ""}, "Say where it comes from"),
    ):
        one_error(owner.post(at("kind_add"), MEDLAR | change), words)
    assert not OwnSpecies.objects.exists()
    revision = type(site).objects.get(pk=site.pk).revision
    owner.post(at("kind_add"), MEDLAR)
    row = OwnSpecies.objects.get()
    assert type(site).objects.get(pk=site.pk).revision == revision + 1
    page = read(owner, at("kind", row.key))
    assert "A kind of your own: The nursery's label." in page
    assert "as of Quince" in page
    assert "Medlar" in read(owner, at("kinds"), q="mespilus")

    tree = {"species": "medlar", "grows_in": "ground", "planted_long_ago": "on"}
    owner.post(at("tree_add"), tree)
    mine = site.trees.get()
    assert (mine.species_key, mine.name) == (row.key, "Medlar")
    assert "Medlar" in read(owner, at("tree", mine.public_id))
    refused = owner.post(at("kind_remove", row.key), follow=True)
    assert "Medlar stays: Medlar would have no kind" in text_of(page_of(refused))
    change_tree(tree=mine, values={"species_key": "quince"})
    owner.post(at("kind_remove", row.key))
    assert not OwnSpecies.objects.exists()
    whats = list(AuditEntry.objects.values_list("what", flat=True))
    assert {"own_kind_added", "own_kind_removed"} <= set(whats)


def test_a_cultivar_of_ones_own(owner, at, site, make_tree):
    path = at("cultivar_add", "apple")
    seen = {"name": "Old Yard", "source": "Seen here", "chill_hours_min": "500"}
    for change, words in (
        ({"name": "gala"}, "Gala is known already"),
        ({"chill_hours_max": "300"}, "must not be above"),
        ({"chill_hours_max": "3000"}, "from 0 to 2000"),
        ({"partners": "old yard"}, "no partner of itself"),
        ({"harvest_end_month": "9"}, "a first and a last month"),
    ):
        one_error(owner.post(path, seen | change), words)
    more = {"harvest_start_month": "9", "harvest_end_month": "10"}
    owner.post(path, seen | more | {"partners": "Gala, Crab by the gate"})
    row = OwnCultivar.objects.get()
    assert row.values["partners"] == "Gala;Crab by the gate"
    cultivar = catalogue_of(site.orchard).cultivar("apple", "'old yard'")
    assert (cultivar.chill_hours_min, cultivar.harvest_start_month) == (500, 9)
    assert "Old Yard, ripe September" in read(owner, at("kind", "apple"))

    tree = make_tree(cultivar="OldYard")
    remove = at("cultivar_remove", "apple", row.pk)
    owner.post(remove)
    assert OwnCultivar.objects.exists()
    change_tree(tree=tree, values={"cultivar": ""})
    owner.post(remove)
    assert not OwnCultivar.objects.exists()
    assert owner.post(at("cultivar_remove", "pear", row.pk)).status_code == 404
