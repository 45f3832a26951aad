"""Clear evenings on the weather page, each with the lowest of its next morning."""

from datetime import timedelta

import pytest
from django.urls import reverse

from orchard.actions.people import choose_units
from orchard.models import FrostEvening, Site
from tests.conftest import TODAY
from tests.orchard.plain_page import one_error, page_of, text_of

DAY = timedelta(days=1)


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def url(site):
    return reverse("weather", args=[site.slug])


def log(browser, url, air="3", dew="-2", on=TODAY - DAY, **more):
    values = {"evening-on": str(on), "evening-air_c": air, "evening-dew_point_c": dew}
    return browser.post(url, {**values, "evening": "1", **more})


def test_an_evening_is_kept_with_who_read_it(browser, cast, site, url):
    before = Site.objects.get(pk=site.pk).revision
    assert log(browser, url).url == url
    evening = FrostEvening.objects.get()
    assert (evening.air_c, evening.dew_point_c) == (3.0, -2.0)
    assert (evening.on, evening.person) == (TODAY - DAY, cast.grower)
    assert Site.objects.get(pk=site.pk).revision == before + 1


def test_an_evening_waits_for_the_lowest_of_its_morning(browser, url):
    log(browser, url)
    words = text_of(page_of(browser.get(url)))
    assert "1 July 2025Air 3 °C, dew point -2 °C" in words
    assert "the lowest of the next morning is not written down" in words
    browser.post(url, {"day": str(TODAY), "tmin_c": "-1,5"})
    words = text_of(page_of(browser.get(url)))
    assert "dew point -2 °C; lowest next morning -1.5 °C" in words


def test_an_evening_read_again_replaces_the_first(browser, url):
    log(browser, url)
    log(browser, url, air="4")
    assert FrostEvening.objects.get().air_c == 4.0


def test_an_evening_is_removed(browser, site, url):
    log(browser, url)
    before = Site.objects.get(pk=site.pk).revision
    gone = {"remove": "evening", "on": str(TODAY - DAY)}
    assert "is removed" in text_of(page_of(browser.post(url, gone, follow=True)))
    assert not FrostEvening.objects.exists()
    assert Site.objects.get(pk=site.pk).revision == before + 1
    again = text_of(page_of(browser.post(url, gone, follow=True)))
    assert "There is no such evening" in again


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"air": ""}, "This field is required"),
        ({"dew": "wet"}, "“wet” is not a number"),
        ({"dew": "3.1"}, "A dew point cannot lie above the air, which has 3 °C"),
        ({"air": "90"}, "90 °C cannot be right"),
        ({"on": TODAY + DAY}, "This evening is still to come; today is 2025-07-02"),
        ({"on": "Tuesday"}, "year-month-day"),
    ],
)
def test_a_mistake_is_named_and_nothing_is_lost_or_saved(browser, url, changed, words):
    answer = log(browser, url, **changed)
    one_error(answer, words)
    page = page_of(answer)
    shown = page.xpath("string(//input[@name='evening-dew_point_c']/@value)")
    assert shown == changed.get("dew", "-2")
    assert page.xpath("//details[@open]//input[@name='evening-air_c']")
    assert not FrostEvening.objects.exists()


def test_us_members_read_fahrenheit(browser, cast, url):
    choose_units(person=cast.grower, units="us")
    log(browser, url, air="41", dew="32")
    evening = FrostEvening.objects.get()
    assert (evening.air_c, evening.dew_point_c) == (pytest.approx(5.0), 0.0)
    assert "Air 41 °F, dew point 32 °F" in text_of(page_of(browser.get(url)))


def test_a_viewer_sees_evenings_but_logs_none(cast, client_of, url):
    viewer = client_of(cast.viewer)
    assert log(viewer, url).status_code == 403
    assert not FrostEvening.objects.exists()


def test_another_sites_evenings_are_not_shown_or_removed(browser, cast, client_of, url):
    log(browser, url)
    theirs = client_of(cast.stranger)
    elsewhere = reverse("weather", args=["elsewhere"])
    assert "1 July 2025Air" not in text_of(page_of(theirs.get(elsewhere)))
    theirs.post(elsewhere, {"remove": "evening", "on": str(TODAY - DAY)})
    assert FrostEvening.objects.count() == 1
