import pytest
from django.urls import reverse

from orchard.models import Person
from tests.orchard.plain_page import errors_of, page_of, text_of

URL = "/you/"


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.grower)


def test_units_are_chosen_for_oneself(browser, cast):
    assert browser.post(URL, {"units": "us"}).url == URL
    cast.grower.refresh_from_db()
    assert cast.grower.units == "us"
    assert not Person.objects.exclude(pk=cast.grower.pk).filter(units="us").exists()


@pytest.mark.parametrize("units", ["", "imperial"])
def test_unknown_units_are_refused(browser, cast, units):
    assert errors_of(page_of(browser.post(URL, {"units": units})))
    cast.grower.refresh_from_db()
    assert cast.grower.units == "metric"


def test_the_page_leads_to_places_password_and_out(browser, site):
    page = page_of(browser.get(URL))
    assert "Test orchard Grower" in text_of(page)
    assert "Somewhere else" not in text_of(page)
    links = page.xpath("//main//a/@href")
    assert reverse("round", args=[site.slug]) in links
    assert reverse("account_change_password") in links
    assert page.xpath("//main//form/@action") == [
        reverse("message_choices"),
        reverse("account_logout"),
    ]


def test_somebody_without_an_orchard_is_shown_the_way(db, client_of):
    page = page_of(client_of(Person.objects.create_user("alone")).get(URL))
    assert "You are in no orchard yet" in text_of(page)
    assert reverse("start") in page.xpath("//main//a/@href")
