import pytest
from allauth.mfa.models import Authenticator
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from orchard.actions.people import found_orchard
from orchard.actions.places import add_site
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


def test_a_language_is_chosen_for_pages_and_messages(browser, cast):
    page = page_of(
        browser.post(URL, {"units": "metric", "language": "es"}, follow=True)
    )
    cast.grower.refresh_from_db()
    assert cast.grower.language == "es"
    assert page.getroottree().getroot().get("lang") == "es"
    browser.post(URL, {"units": "metric", "language": ""})
    cast.grower.refresh_from_db()
    assert cast.grower.language == ""
    assert errors_of(page_of(browser.post(URL, {"units": "metric", "language": "xx"})))


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
        reverse("message_ways"),
        reverse("push_add"),
        reverse("account_logout"),
    ]


def test_somebody_without_an_orchard_is_shown_the_way(db, client_of):
    page = page_of(client_of(Person.objects.create_user("alone")).get(URL))
    assert "You are in no orchard yet" in text_of(page)
    assert reverse("start") in page.xpath("//main//a/@href")


def test_more_orchards_ask_the_database_no_more(
    browser, cast, django_assert_num_queries
):
    with CaptureQueriesContext(connection) as first:
        browser.get(URL)
    for name in ("North", "South", "West"):
        orchard = found_orchard(person=cast.grower, name=name)
        values = {"name": name, "latitude_deg": 10.0, "longitude_deg": 10.0}
        add_site(orchard=orchard, values=values)
    Authenticator.objects.create(user=cast.grower, type="webauthn", data={})
    with django_assert_num_queries(len(first)):
        page = page_of(browser.get(URL))
    assert "1 passkey, no app" in text_of(page)
    assert page.xpath("//main//a[@href='/s/north/calendar/']")


def test_calendar_links_and_the_ways_in_are_one_press_away(browser, site):
    links = page_of(browser.get(URL)).xpath("//main//a/@href")
    names = ["account_email", "mfa_index", "usersessions_list"]
    assert {reverse(name) for name in names} <= set(links)
    assert reverse("calendar_links", args=[site.slug]) in links


def test_who_has_no_password_is_offered_one(cast, client_of):
    cast.viewer.set_unusable_password()
    cast.viewer.save()
    page = page_of(client_of(cast.viewer).get(URL))
    assert page.xpath(f"//main//a[@href='{reverse('account_set_password')}']")
