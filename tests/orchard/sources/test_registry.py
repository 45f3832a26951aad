"""The services on offer: where each covers, what each is owed, how places are named."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, strategies as st

from orchard.models import Site
from orchard.sources.registry import (
    SERVICES,
    cell_of,
    in_united_states,
    place_of,
    service_of,
    services_at,
)

NOW = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)


def a_site(latitude_deg, longitude_deg, elevation_m=0.0, time_zone="UTC"):
    return Site(
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        elevation_m=elevation_m,
        time_zone=time_zone,
    )


def test_keys_are_known_and_come_in_their_order():
    assert [service.key for service in SERVICES] == ["columns", "norwegian", "us"]
    assert service_of("us") is SERVICES[2]
    assert service_of("gone") is None


@pytest.mark.parametrize("service", SERVICES, ids=lambda service: service.key)
def test_every_service_is_thanked_and_asked_seldom(service):
    assert service.credit_url.startswith("https://")
    assert service.licence_url.startswith("https://")
    assert timedelta(hours=1) <= service.interval <= timedelta(hours=3)
    assert "." in service.host()


@pytest.mark.parametrize(
    ("where", "latitude_deg", "longitude_deg", "is_inside"),
    [
        ("Seattle", 47.45, -122.31, True),
        ("Miami", 25.80, -80.27, True),
        ("Caribou, Maine", 46.87, -68.01, True),
        ("Anchorage", 61.17, -150.02, True),
        ("Attu", 52.9, 172.9, True),
        ("Honolulu", 21.32, -157.93, True),
        ("San Juan", 18.43, -66.0, True),
        ("Guam", 13.48, 144.8, True),
        ("Pago Pago", -14.33, -170.71, True),
        ("Oslo", 59.91, 10.75, False),
        ("Durban", -29.86, 31.03, False),
        ("Havana", 23.11, -82.37, False),
        ("Edmonton", 53.55, -113.49, False),
        ("Auckland", -36.85, 174.76, False),
        ("Mexico City", 19.43, -99.13, False),
    ],
)
def test_the_us_service_covers_the_states_and_territories(
    where, latitude_deg, longitude_deg, is_inside
):
    assert in_united_states(latitude_deg, longitude_deg) is is_inside
    keys = [service.key for service in services_at(a_site(latitude_deg, longitude_deg))]
    assert keys == ["columns", "norwegian", *(["us"] if is_inside else [])]


def test_sites_a_few_hundred_metres_apart_share_a_cell():
    one = a_site(47.4512, -122.3109, 120, "America/Los_Angeles")
    other = a_site(47.4488, -122.3061, 108, "America/Los_Angeles")
    assert cell_of(one) == cell_of(other) == "47.45,-122.31,100,America/Los_Angeles"


@pytest.mark.parametrize(
    "other",
    [
        a_site(47.46, -122.31, 100, "America/Los_Angeles"),
        a_site(47.45, -122.32, 100, "America/Los_Angeles"),
        a_site(47.45, -122.31, 260, "America/Los_Angeles"),
        a_site(47.45, -122.31, 100, "America/Vancouver"),
    ],
)
def test_another_place_height_or_clock_is_another_cell(other):
    assert cell_of(other) != "47.45,-122.31,100,America/Los_Angeles"


@given(st.floats(-90, 90), st.floats(-180, 180), st.floats(-430, 6000))
def test_a_cell_is_near_its_site_and_names_no_garden(latitude, longitude, height_m):
    cell = cell_of(a_site(latitude, longitude, height_m, "Africa/Johannesburg"))
    place = place_of(cell, NOW)
    assert abs(place.latitude_deg - latitude) <= 0.005 + 1e-9
    assert abs(place.longitude_deg - longitude) <= 0.005 + 1e-9
    assert abs(place.elevation_m - height_m) <= 25
    assert place.zone.key == "Africa/Johannesburg"
    assert len(cell) <= 80
    assert ",-0," not in f",{cell}"  # nor is nothing below nothing


def test_the_day_of_a_place_is_that_of_its_clock():
    place = place_of("21.32,-157.93,0,Pacific/Honolulu", NOW.replace(hour=5))
    assert str(place.today) == "2026-02-28"
