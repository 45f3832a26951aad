"""The menu of every page: from one orchard to another in two taps."""

import pytest

from orchard.actions.people import found_orchard
from orchard.actions.places import add_site
from orchard.models import Membership
from tests.orchard.plain_page import page_of, text_of

PAGE = "/s/test-site/care/"


def add_places(orchard, *names):
    for name in names:
        add_site(
            orchard=orchard,
            values={"name": name, "latitude_deg": 1.0, "longitude_deg": 1.0},
        )


def switch(client):
    """Return the groups of the menu: each orchard's name with its places."""
    page = page_of(client.get(PAGE))
    (menu,) = page.xpath("//nav[@class='bar']//details/ul")
    return {
        text_of(group.xpath("./p")[0]): [
            (text_of(link), link.get("href"), link.get("aria-current"))
            for link in group.xpath("./ul//a")
        ]
        for group in menu.xpath("./li[ul]")
    }


HERE = ("Test site (you are here)", "/s/test-site/", "true")


def test_with_one_place_there_is_nothing_to_switch(cast, client_of):
    assert switch(client_of(cast.grower)) == {}


def test_two_places_stand_under_their_orchards_and_this_one_is_marked(cast, client_of):
    found_orchard(person=cast.grower, name="Another")
    add_places(cast.grower.orchards.get(name="Another"), "Terrace")
    assert switch(client_of(cast.grower)) == {
        "Another": [("Terrace", "/s/terrace/", None)],
        "Test orchard": [HERE],
    }


def test_twelve_places_stand_in_order_under_their_orchards(
    cast, client_of, site, django_assert_num_queries
):
    client = client_of(cast.grower)
    client.get(PAGE)
    with django_assert_num_queries(9):
        client.get(PAGE)
    add_places(site.orchard, "Terrace", "Allotment")
    # Two orchards of one name stay two.
    for number in range(3):
        one = found_orchard(person=cast.grower, name=f"Garden {min(number, 1)}")
        add_places(one, *(f"Row {number}{letter}" for letter in "cab"))
    with django_assert_num_queries(9):
        page = client.get(PAGE)
    links = page_of(page).xpath("//nav[@class='bar']//details/ul/li/ul//a")
    assert len(links) == 12
    labels = page_of(page).xpath("//nav//p[@class='bar__label']")
    assert [text_of(one) for one in labels] == [
        "Garden 0",
        "Garden 1",
        "Garden 1",
        "Test orchard",
    ]
    places = [text_of(link) for link in links]
    assert places[:3] == ["Row 0a", "Row 0b", "Row 0c"]
    assert places[9:] == ["Allotment", "Terrace", HERE[0]]


def test_who_left_an_orchard_is_not_led_back(cast, client_of, site):
    other = found_orchard(person=cast.grower, name="Another")
    add_places(other, "Terrace")
    Membership.objects.filter(person=cast.grower, orchard=other).delete()
    assert switch(client_of(cast.grower)) == {}


@pytest.mark.parametrize("name", ["<script>alert(1)</script>", "x" * 60])
def test_any_name_is_only_a_name(cast, client_of, site, name):
    add_places(site.orchard, name)
    groups = switch(client_of(cast.grower))
    assert name in [place[0] for place in groups["Test orchard"]]
