"""What if nobody waters until a day: who suffers, from when, and what it takes."""

from datetime import date, timedelta

import pytest

from orchard.actions.people import choose_units
from orchard.actions.weather import set_normals
from tests.conftest import TODAY

AWAY = "/s/test-site/away/"
DAY = timedelta(days=1)
DRY = [(month, 12.0, 26.0, 0.0 if month in (7, 8) else 120.0) for month in range(1, 13)]


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def grove(site, make_tree):
    set_normals(site=site, months=DRY)
    make_tree(
        "Lemon",
        species_key="lemon",
        in_container=True,
        container_litres=40.0,
        crown_width_m=1.0,
    )
    make_tree("Old apple", planted_on=date(2005, 3, 1), crown_width_m=2.0)
    make_tree("To come", planted_on=TODAY + 30 * DAY)
    return site


def test_a_pot_suffers_long_before_an_old_tree(grower, grove):
    page = text(grower.get(AWAY))  # two weeks: 16 July
    assert "Before Wednesday 16 July these suffer" in page
    assert page.index(">Lemon<") < page.index("likely hold until then")
    assert "Old apple" in page.split("likely hold until then")[1]
    assert "To come" not in page
    assert "waterings and" in page


def test_the_longer_the_absence_the_more_suffer(grower, grove):
    def suffering(days):
        page = text(grower.get(AWAY, {"until": str(TODAY + days * DAY)}))
        told = page.split("likely hold until then")[0]
        return told.count("line__what") + told.count("Already, or from today on")

    counts = [suffering(days) for days in (1, 14, 60)]
    assert counts == sorted(counts)
    assert counts[-1] == 2


@pytest.mark.parametrize(
    ("until", "said"),
    [
        (TODAY, "Choose a day after today."),
        (TODAY + 61 * DAY, "60 days at most"),
        ("soon", "Write the day as year-month-day"),
        ("", "Until which day?"),
    ],
)
def test_a_day_that_cannot_be_is_named_and_two_weeks_are_shown(
    grower, grove, until, said
):
    answer = grower.get(AWAY, {"until": str(until)})
    assert answer.status_code == 422
    assert said in text(answer)
    assert "Before Wednesday 16 July" in text(answer)


def test_without_weather_nothing_can_be_told(grower, make_tree):
    make_tree("Anna")
    page = text(grower.get(AWAY))
    assert "Unknown: without weather there is no reckoning." in page


def test_a_pot_of_unknown_fate_is_named(grower, grove, make_tree):
    make_tree("Lime", planted_on=TODAY - DAY, entered_on=TODAY)
    assert "Lime" in text(grower.get(AWAY))


def test_litres_are_in_the_readers_units_and_a_viewer_may_look(cast, client_of, grove):
    choose_units(person=cast.viewer, units="us")
    page = text(client_of(cast.viewer).get(AWAY))
    assert " gal in all" in page
    assert "helpers/" not in page


def test_the_page_asks_as_often_for_30_trees_as_for_3(
    grower, grove, make_tree, django_assert_num_queries
):
    grower.get(AWAY)
    with django_assert_num_queries(20):
        grower.get(AWAY)
    for number in range(12):
        make_tree(f"Apple {number}")
    with django_assert_num_queries(20):
        grower.get(AWAY)
