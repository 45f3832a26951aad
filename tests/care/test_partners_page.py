"""Who pollinates whom, on the page; neighbours' trees written down and struck off."""

import pytest
from django.urls import reverse

from orchard.models import AuditEntry, Graft, NeighbourTree, Planting, WantedTree
from tests.conftest import TODAY

PARTNERS = "/s/test-site/planting/partners/"
ADD = f"{PARTNERS}neighbours/"


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def coordinator(cast, client_of):
    return client_of(cast.coordinator)


def test_an_empty_place_says_what_to_do(coordinator, site):
    page = text(coordinator.get(PARTNERS))
    assert "There are no trees here yet" in page
    assert "None written down." in page


def test_each_plant_is_told_by_kind_and_what_lacks_stands_first(
    coordinator, site, make_tree
):
    make_tree("Gala by the gate", cultivar="Gala", x_m=0.0, y_m=0.0)
    make_tree("Fuji", cultivar="Fuji", x_m=8.0, y_m=0.0)
    make_tree("Gala again", cultivar="gala", x_m=4.0, y_m=0.0)
    make_tree("Peach", species_key="peach")
    make_tree("Plum", species_key="japanese_plum", cultivar="Byrongold")
    page = text(coordinator.get(PARTNERS))
    assert "<strong>1 lacks something.</strong>" in page
    assert page.index("Needs a partner within 30 m: add") < page.index("Pollen from")
    assert "Pollen from Fuji, 8 m away, named as its partner." in page
    assert "Gala again, 4 m away: the same cultivar, so no partner." in page
    assert "Sets fruit by itself." in page
    assert "Iowa State" in page or "iastate" in page


def test_grafts_wanted_trees_and_neighbours_count(coordinator, site, make_tree):
    plum = make_tree("Plum", species_key="japanese_plum", cultivar="Byrongold")
    Graft.objects.create(
        tree=plum,
        species_key="japanese_plum",
        cultivar="Segundo",
        grafted_on=TODAY,
    )
    make_tree("Gala", cultivar="Gala", x_m=0.0, y_m=0.0)
    planting = Planting.objects.create(site=site, name="Spring", begun_on=TODAY)
    WantedTree.objects.create(
        planting=planting,
        name="New one",
        species_key="apple",
        cultivar="Fuji",
        x_m=20.0,
        y_m=0.0,
    )
    kiwi = {"species_key": "kiwifruit", "cultivar": "Hayward"}
    make_tree("Vine", **kiwi)
    NeighbourTree.objects.create(site=site, species_key="asian_pear", distance_m=12.0)
    page = text(coordinator.get(PARTNERS))
    assert "Pollen from Segundo grafted onto Plum, " in page
    assert "Pollen from New one (Fuji), 20 m away, once it is planted" in page
    assert "That is far: it will set less." in page
    assert "Needs pollen from a male plant: add one" in page
    assert "Asian pear" in page
    assert "12 m from the nearest of yours of its kind" in page


def test_the_page_of_a_tree_says_what_its_flowers_lack(coordinator, site, make_tree):
    gala = make_tree("Gala", cultivar="Gala", x_m=0.0, y_m=0.0)
    address = reverse("tree", args=[site.slug, gala.public_id])
    lacks = "Needs a partner within 30 m: add"
    assert lacks in text(coordinator.get(address))
    make_tree("Fuji", cultivar="Fuji", x_m=5.0, y_m=0.0)
    assert lacks not in text(coordinator.get(address))


def test_more_trees_cost_no_more_queries(
    coordinator, site, make_tree, django_assert_max_num_queries
):
    for number in range(3):
        make_tree(f"Apple {number}", cultivar=("Gala", "Fuji", "")[number])
        NeighbourTree.objects.create(site=site, species_key="apple")
    with django_assert_max_num_queries(28):
        assert coordinator.get(PARTNERS).status_code == 200


def test_a_neighbours_tree_is_written_down_and_struck_off(coordinator, site):
    site.refresh_from_db()
    revision = site.revision
    answer = coordinator.post(
        ADD, {"species": "Apple", "cultivar": "Fuji", "distance_m": "40 ft"}
    )
    tree = NeighbourTree.objects.get()
    assert answer.url == f"{PARTNERS}#neighbours"
    assert (tree.species_key, tree.cultivar) == ("apple", "Fuji")
    assert tree.distance_m == pytest.approx(12.192)
    coordinator.post(reverse("neighbour_remove", args=[site.slug, tree.pk]))
    assert not NeighbourTree.objects.exists()
    site.refresh_from_db()
    assert site.revision == revision + 2
    assert "Write the last one down again" in text(coordinator.get(PARTNERS))
    back = f"{ADD}back/"
    assert "Written down again: apple." in text(coordinator.post(back, follow=True))
    assert NeighbourTree.objects.get().distance_m == pytest.approx(12.192)
    assert "none to write down again" in text(coordinator.post(back, follow=True))
    whats = AuditEntry.objects.order_by("-pk").values_list("what", flat=True)
    added, removed = "neighbour_tree_added", "neighbour_tree_removed"
    assert list(whats[:3]) == [added, removed, added]


@pytest.mark.parametrize(
    ("posted", "said"),
    [
        ({"species": "appel"}, "Did you mean apple"),
        ({"species": "zzzz"}, "Write its common or botanical name."),
        ({"species": ""}, "Say what it is, such as apple or pear."),
        ({"species": "apple", "x_m": "3"}, "A place needs both numbers, or neither."),
        ({"species": "apple", "distance_m": "-2"}, "cannot be right"),
        ({"species": "apple", "distance_m": "far"}, "far"),
    ],
)
def test_what_cannot_be_read_is_said_and_kept(coordinator, site, posted, said):
    answer = coordinator.post(ADD, {"note": "Old one", **posted})
    assert answer.status_code == 422
    page = text(answer)
    assert said.casefold() in page.casefold()
    assert 'value="Old one"' in page
    assert not NeighbourTree.objects.exists()
