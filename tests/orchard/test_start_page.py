import pytest
from django.urls import reverse

from orchard.models import Membership, Orchard, Person, Site
from tests.orchard.plain_page import errors_of, one_error, page_of, text_of

URL = "/start/"


@pytest.fixture
def newcomer(db):
    return Person.objects.create_user("newcomer")


@pytest.fixture
def browser(newcomer, client_of):
    return client_of(newcomer)


def choices(page):
    return page.xpath("//input[@name='place']/@value")


def test_a_newcomer_finds_a_city_and_has_an_orchard(browser, newcomer):
    typed = {"orchard_name": "Alder Row", "city": "Portland, Maine"}
    page = page_of(browser.post(URL, {**typed, "find": "1"}))
    assert page.xpath("//input[@name='orchard_name']/@value") == ["Alder Row"]
    assert "Portland, Maine, United States" in text_of(page)
    answer = browser.post(URL, {**typed, "place": choices(page)[0], "begin": "1"})
    site = Site.objects.get()
    assert answer.url == reverse("weather_normals", args=[site.slug]) + "?first=1"
    assert (site.name, site.time_zone) == ("Alder Row", "America/New_York")
    # Portland, Maine lies at 43.66 N 70.26 W (GeoNames).
    assert (site.latitude_deg, site.longitude_deg) == pytest.approx(
        (43.66, -70.26), abs=0.02
    )
    assert Membership.objects.get(person=newcomer).role == "owner"


def test_looking_for_a_city_makes_nothing(browser):
    browser.post(URL, {"orchard_name": "Alder Row", "city": "Portland", "find": "1"})
    assert not Orchard.objects.exists()


def test_coordinates_do_instead_of_a_city(browser):
    browser.post(
        URL,
        {
            "orchard_name": "Quay Steps Garden",
            "latitude": "-33,92",
            "longitude": "18.42",
            "elevation_m": "30",
            "soil_texture": "sand",
        },
    )
    site = Site.objects.get()
    assert (site.latitude_deg, site.longitude_deg) == (-33.92, 18.42)
    assert site.time_zone == "Africa/Johannesburg"  # the nearest city's, Cape Town
    assert (site.elevation_m, site.soil_texture) == (30.0, "sand")


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({}, "Write a city"),
        ({"city": "Xyzzyville"}, "No city called “Xyzzyville”"),
        ({"city": "Portland"}, "Choose the one you mean"),
        ({"city": "Portland", "place": "0,0"}, "Select a valid choice"),
        ({"latitude": "47"}, "Both coordinates are needed"),
        ({"latitude": "91", "longitude": "0"}, "from -90 to 90"),
        ({"latitude": "north", "longitude": "0"}, "“north” is not a number"),
        (
            {"latitude": "1", "longitude": "1", "time_zone": "Mars/Base"},
            "not a time zone",
        ),
        ({"latitude": "1", "longitude": "1", "elevation_m": "9000"}, "must be from"),
    ],
)
def test_a_bad_place_is_named_at_its_field_and_nothing_is_made(browser, typed, words):
    answer = browser.post(URL, {"orchard_name": "Alder Row", **typed})
    one_error(answer, words)
    assert "Alder Row" in answer.content.decode()
    assert not Orchard.objects.exists()


def test_a_name_is_needed(browser):
    one_error(browser.post(URL, {"city": "Portland"}), "Give it a name")


def test_a_member_may_add_a_place_to_their_orchard(cast, site, client_of):
    browser = client_of(cast.coordinator)
    assert "A new one" in text_of(page_of(browser.get(URL)))
    typed = {"orchard_name": "Far field", "latitude": "47", "longitude": "-122"}
    browser.post(URL, {**typed, "orchard": str(site.orchard.pk)})
    assert Site.objects.get(name="Far field").orchard == site.orchard


def test_a_grower_may_not_add_a_place_to_it(cast, site, client_of):
    browser = client_of(cast.grower)
    typed = {"orchard_name": "Mine", "latitude": "47", "longitude": "-122"}
    browser.post(URL, {**typed, "orchard": str(site.orchard.pk)})
    assert Site.objects.get(name="Mine").orchard != site.orchard


def test_whoever_is_not_signed_in_is_asked_to(client, db):
    assert client.get(URL).url.startswith(reverse("account_login"))


def test_the_first_page_has_no_errors_before_anything_is_typed(browser):
    assert errors_of(page_of(browser.get(URL))) == []
