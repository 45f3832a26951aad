"""Corners to measure from, which way is north, and where this is on the earth."""

import pytest

from orchard.models import Corner, SitePlan
from tests.orchard.plain_page import errors_of, page_of, text_of

URL = "/s/test-site/plan/corners/"


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.coordinator)


def places():
    return {corner.name: (corner.x_m, corner.y_m) for corner in Corner.objects.all()}


FIRST = {"first_name": "A", "second_name": "B", "apart_m": "5"}


def refused(browser, url, posted, words):
    answer = browser.post(url, posted)
    assert answer.status_code == 422
    assert [error for error in errors_of(page_of(answer)) if words in error], posted


def test_two_corners_then_more_by_tape(browser, site):
    page = text_of(page_of(browser.get(URL)))
    assert "Choose two corners of the house that you can see" in page
    for posted, words in (
        ({**FIRST, "apart_m": ""}, "This field is required"),
        ({**FIRST, "apart_m": "0"}, "must be from 0.5 m"),
        ({**FIRST, "second_name": "a"}, "a name of its own"),
    ):
        refused(browser, f"{URL}add/", posted, words)
    assert places() == {}
    browser.post(f"{URL}add/", FIRST)
    assert places() == {"A": (0, 0), "B": (5, 0)}
    a, b = Corner.objects.order_by("id")
    tapes = {"first": a.pk, "first_m": "3", "second": b.pk, "second_m": "4"}
    posted = {"name": "Shed", "side": "right", **tapes}
    words = text_of(page_of(browser.post(f"{URL}add/", posted, follow=True)))
    assert "Named: Shed." in words
    assert places()["Shed"] == pytest.approx((1.8, -2.4))
    assert "1.8 m along, -2.4 m across · 3 m from A, 4 m from B" in words
    refused(
        browser, f"{URL}add/", {**posted, "name": "shed"}, "is called “shed” already"
    )
    far = {**posted, "name": "Gate", "second_m": "30"}
    refused(browser, f"{URL}add/", far, "cannot meet: A and B are 5 m apart")
    assert len(places()) == 3
    assert [entry.what for entry in site.orchard.audit.all()[:3]] == [
        "corner_added"
    ] * 3


def test_a_corner_is_renamed_moved_and_removed(browser, site):
    browser.post(f"{URL}add/", FIRST)
    a, b = Corner.objects.order_by("id")
    page = page_of(browser.get(f"{URL}{b.pk}/"))
    assert page.xpath("//*[@name='where']/@value") == ["5, 0"]
    browser.post(f"{URL}{b.pk}/", {"name": "Porch", "where": "5, 0"})
    browser.post(f"{URL}{a.pk}/", {"name": "A", "where": "-1, 0.5"})
    assert places() == {"Porch": (5, 0), "A": (-1, 0.5)}
    for posted, words in (
        ({"name": "porch", "where": "1, 1"}, "is called “porch” already"),
        ({"name": "A", "where": "9000, 1"}, "km from the site|9000 m from the site"),
        ({"name": "A", "where": "there"}, "“there” is no point"),
        ({"name": "", "where": "1, 1"}, "This field is required"),
    ):
        answer = browser.post(f"{URL}{a.pk}/", posted)
        assert answer.status_code == 422
        told = errors_of(page_of(answer))
        assert [e for e in told if any(w in e for w in words.split("|"))], posted
    browser.post(f"{URL}{a.pk}/remove/")
    assert places() == {"Porch": (5, 0)}
    # One alone: the next is written in one line.
    browser.post(f"{URL}add/", {"name": "C", "where": "0, 3"})
    assert places() == {"Porch": (5, 0), "C": (0, 3)}


def test_north_and_the_place_on_the_earth(browser, site):
    page = page_of(browser.get(URL))
    assert page.xpath("//*[@id='axes_origin']/@value") == ["47.45, -122.31"]
    place = "47.4512, -122.3105"
    browser.post(f"{URL}axes/", {"direction": "135", "origin": place})
    plan = SitePlan.objects.get(site=site)
    assert (plan.up_bearing_deg, plan.origin_latitude_deg) == (135.0, 47.4512)
    page = page_of(browser.get(URL))
    assert page.xpath("//*[@id='axes_direction']/option[@selected]/@value") == ["135"]
    exact = {"direction": "135", "bearing_deg": "360", "origin": ""}
    browser.post(f"{URL}axes/", exact)
    plan.refresh_from_db()
    assert (plan.up_bearing_deg, plan.origin_latitude_deg) == (0.0, None)
    browser.post(f"{URL}axes/", {"bearing_deg": "12.5", "origin": place})
    page = page_of(browser.get(URL))
    assert page.xpath("//*[@id='axes_bearing_deg']/@value") == ["12.5"]
    for posted, words in (
        ({"origin": place}, "Choose a direction"),
        (
            {"direction": "0", "origin": "-27.5, 153.0"},
            "from the place in the settings",
        ),
        ({"direction": "0", "origin": "home"}, "is no position"),
        ({"bearing_deg": "400"}, "from 0 to 360"),
        ({"direction": "7"}, "Select a valid choice"),
    ):
        refused(browser, f"{URL}axes/", posted, words)
    plan.refresh_from_db()
    assert (plan.up_bearing_deg, plan.origin_longitude_deg) == (12.5, -122.3105)
