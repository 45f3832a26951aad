from zoneinfo import available_timezones

import pytest
from hypothesis import given, settings, strategies as st

from orchard.catalogue.cities import find_cities, nearest_city


@pytest.mark.parametrize(
    # Coordinates from memory, to a quarter of a degree; zones of the IANA database.
    ("text", "latitude", "longitude", "zone"),
    [
        ("Seattle", 47.6, -122.3, "America/Los_Angeles"),
        ("cape town", -33.9, 18.4, "Africa/Johannesburg"),
        ("Zürich", 47.4, 8.5, "Europe/Zurich"),
        ("zurich", 47.4, 8.5, "Europe/Zurich"),
        ("Auckland", -36.85, 174.76, "Pacific/Auckland"),
        ("Kampala", 0.33, 32.57, "Africa/Kampala"),
    ],
)
def test_a_city_is_found_with_its_place_and_clock(text, latitude, longitude, zone):
    city = find_cities(text)[0]
    assert city.latitude == pytest.approx(latitude, abs=0.25)
    assert city.longitude == pytest.approx(longitude, abs=0.25)
    assert city.time_zone == zone


def test_the_largest_city_of_a_name_comes_first():
    found = [city for city in find_cities("London") if city.name == "London"]
    assert [city.country for city in found[:2]] == ["United Kingdom", "Canada"]
    populations = [city.population for city in found]
    assert populations == sorted(populations, reverse=True)


def test_another_language_finds_the_city_too():
    assert find_cities("Cologne")[0].name == "Köln"
    assert find_cities("Москва")[0].country == "Russia"


@pytest.mark.parametrize(
    ("text", "label"),
    [
        ("portland, maine", "Portland, Maine, United States"),
        ("Portland, OR", "Portland, Oregon, United States"),
        ("london, ca", "London, Canada"),
        ("Paris, texas, united states", "Paris, Texas, United States"),
    ],
)
def test_what_follows_a_comma_chooses_the_state_or_country(text, label):
    assert find_cities(text)[0].label == label


def test_the_beginning_of_a_name_is_enough():
    assert find_cities("Seattl")[0].name == "Seattle"


def test_no_more_than_the_limit_come_back():
    assert len(find_cities("san", limit=5)) == 5
    assert find_cities("san", limit=0) == []


@pytest.mark.parametrize("text", ["", "  ", ",", ", texas", "zzzzqq", "x" * 10_000])
def test_what_is_no_city_finds_nothing(text):
    assert find_cities(text) == []


def test_every_time_zone_is_one_this_machine_knows():
    zones = {city.time_zone for city in find_cities("a", limit=40_000)}
    assert len(zones) > 50
    assert zones <= available_timezones()


@given(st.text(max_size=40))
@settings(max_examples=30, deadline=None)
def test_any_text_can_be_searched(text):
    assert len(find_cities(text)) <= 8


@pytest.mark.parametrize(
    # Zones of the IANA database at these places, from a map of time zones.
    ("latitude", "longitude", "zone"),
    [
        (47.45, -122.31, "America/Los_Angeles"),
        (25.8, -80.27, "America/New_York"),
        (-33.92, 18.42, "Africa/Johannesburg"),
        (-36.85, 174.76, "Pacific/Auckland"),
        (-36.85, 174.76 - 360, "Pacific/Auckland"),
        (0.35, 32.58, "Africa/Kampala"),
    ],
)
def test_the_nearest_city_keeps_the_clock_of_a_place(latitude, longitude, zone):
    assert nearest_city(latitude, longitude).time_zone == zone
