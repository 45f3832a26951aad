"""The one line of weather that matters."""

from datetime import date, timedelta

import pytest

from care.planning.days_ahead import NearDay, NearDays, read_near_days
from care.views.weather_line import weather_line
from orchard.actions.weather import import_days, set_normals, type_reading
from orchard.models import WeatherDay
from orchard.units import UnitSystem
from tests.conftest import TODAY

DAY = timedelta(days=1)


@pytest.fixture
def read(site):
    """Write one day's reading, or a forecast of this morning."""

    def write(days, *, is_forecast=False, **values):
        day = TODAY + timedelta(days=days)
        row = type_reading(site=site, day=day, values=values, person=None)
        if is_forecast:
            WeatherDay.objects.filter(pk=row.pk).update(issued_on=TODAY)

    return write


@pytest.fixture
def line(site):
    def say(units=UnitSystem.METRIC):
        return weather_line(site, read_near_days(site, TODAY), units)

    return say


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"tmin_c": -2.0}, "Cold ahead: -2 °C expected tomorrow morning."),
        (
            {"tmin_c": 12.0, "tmax_c": 35.0},
            "Heat ahead: 35 °C expected tomorrow.",
        ),
        ({"rain_mm": 12.0}, "Rain likely tomorrow, about 12 mm."),
        (
            {"tmin_c": 1.0, "tmax_c": 34.0, "rain_mm": 9.0},
            "Cold ahead: 1 °C expected tomorrow morning.",
        ),
    ],
)
def test_what_can_hurt_most_is_said_first(read, line, values, said):
    read(1, is_forecast=True, **values)
    assert line().words == said


def test_the_rest_is_said_after_it(read, line):
    read(-1, rain_mm=4.0)
    read(1, is_forecast=True, tmin_c=1.0, tmax_c=34.0, rain_mm=9.0)
    assert line().more == (
        "Heat ahead: 34 °C expected tomorrow.",
        "Rain likely tomorrow, about 9 mm.",
    )
    assert not line().needs_weather


def test_it_is_said_in_the_readers_units(read, line):
    read(1, is_forecast=True, tmin_c=-2.0)
    # -2 degC are 28.4 degF.
    assert "28 °F" in line(UnitSystem.US).words


def test_a_cold_spot_is_told_with_the_forecast_it_was_taken_off(
    read, line, site, make_tree
):
    # Five nights on which the thermometer here read 3 degC less than the forecast.
    nights = range(-12, -7)
    station = [(TODAY + timedelta(days=days), {"tmin_c": 1.0}) for days in nights]
    import_days(site=site, days=station, label="station", person=None)
    for days in nights:
        read(days, tmin_c=-2.0)
    read(1, is_forecast=True, tmin_c=3.0)
    without_trees = line().words
    make_tree()
    assert line().words == without_trees
    assert without_trees == (
        "Cold ahead: 0 °C expected tomorrow morning (3 °C by the forecast)."
    )


def test_last_weeks_rain_is_said_where_nothing_is_ahead(read, line):
    read(-1, rain_mm=4.0)
    read(-3, rain_mm=10.0)
    read(-9, rain_mm=50.0)
    assert line().words == "14 mm of rain in the last 7 days."


def test_a_dry_week_and_todays_warmth_are_said(read, line):
    read(-1, rain_mm=0.0)
    read(0, is_forecast=True, tmax_c=27.0)
    assert line().words == "No rain in the last 7 days. Up to 27 °C today."


def test_a_missing_gauge_is_not_a_dry_week(read, line):
    read(-1, tmin_c=10.0, tmax_c=20.0)
    assert line().words == "No rain reading in the last week."


def test_readings_that_stopped_are_called_old(read, line):
    read(-5, rain_mm=4.0)
    assert line().words == (
        "Weather is 5 days old (none since Friday): amounts are less sure."
    )
    assert line().needs_weather


@pytest.mark.parametrize(
    ("later_c", "said"),
    [
        (-3.4, "Cold ahead: -2 °C expected tomorrow morning."),
        (
            -3.5,
            "Cold ahead: -2 °C expected tomorrow morning, -3.5 °C expected Friday morning.",
        ),
    ],
)
def test_tonights_cold_is_said_before_a_colder_night(read, line, later_c, said):
    read(0, is_forecast=True, tmin_c=0.0)
    read(1, is_forecast=True, tmin_c=-2.0)
    read(2, is_forecast=True, tmin_c=later_c)
    WeatherDay.objects.filter(issued_on=TODAY).update(issued_on=TODAY - DAY)
    assert line().words == said


WINTER = date(2025, 12, 12)
UNKNOWN = "No forecast reaches tonight"


@pytest.fixture
def winter_line(site):
    """Say the line of a December day, which is between the site's frosts."""

    def say(*, is_frost_free=False, ahead=None):
        site.is_frost_free = is_frost_free
        past = {WINTER - DAY: NearDay(tmin_c=3.0, rain_mm=1.0)}
        days = {WINTER + DAY * days: one for days, one in (ahead or {}).items()}
        return weather_line(site, NearDays(WINTER, past, days), UnitSystem.METRIC)

    return say


def test_in_the_frost_season_a_night_nobody_knows_is_said(winter_line, site):
    assert any(UNKNOWN in words for words in winter_line().more)
    site.last_frost_month = site.first_frost_month = None
    assert any(UNKNOWN in words for words in winter_line().more)


@pytest.mark.parametrize(
    "case",
    [
        {"is_frost_free": True},
        {"ahead": {1: NearDay(tmin_c=9.0)}},
        {"ahead": {0: NearDay(tmin_c=9.0, issued_on=WINTER)}},
    ],
)
def test_a_night_that_is_known_or_free_of_frost_is_not(winter_line, case):
    assert not any(UNKNOWN in words for words in winter_line(**case).more)


def test_what_is_forecast_is_said_before_how_old_the_readings_are(read, line):
    read(-5, rain_mm=4.0)
    read(1, is_forecast=True, tmin_c=-2.0)
    assert line().words.startswith("Cold ahead")
    (stale,) = line().more
    assert stale.startswith("Weather is 5 days old")


def test_a_forecast_of_two_days_ago_says_its_age(read, line):
    read(-1, rain_mm=4.0)
    read(1, is_forecast=True, tmin_c=-2.0)
    WeatherDay.objects.filter(issued_on=TODAY).update(
        issued_on=TODAY - timedelta(days=2)
    )
    assert line().words.startswith("Cold ahead")
    assert line().more == ("The forecast is 2 days old: less sure with every day.",)


@pytest.mark.parametrize(
    ("values", "units", "said"),
    [
        (
            {"gust_ms": 18.0},
            UnitSystem.METRIC,
            "High wind likely tomorrow, gusts of 18 m/s: no ladders, and peg every cover "
            "down.",
        ),
        # 18 m/s are 40 miles an hour: NIST SP 811 (2008), appendix B.8.
        ({"gust_ms": 18.0}, UnitSystem.US, "40 mph"),
        ({"wind_ms": 9.0}, UnitSystem.METRIC, "wind of 9 m/s"),
        ({"wind_ms": 9.0, "gust_ms": 10.0, "rain_mm": 0.0}, UnitSystem.METRIC, ""),
        ({"wind_ms": 5.0, "rain_mm": 0.0}, UnitSystem.METRIC, ""),
    ],
)
def test_high_wind_keeps_people_off_ladders(read, line, values, units, said):
    read(-1, rain_mm=4.0)
    read(1, is_forecast=True, rain_mm=0.0)
    WeatherDay.objects.filter(issued_on=TODAY).update(**values)
    assert said in line(units).words
    assert ("wind" in line(units).words) is bool(said)


def test_usual_weather_stands_in_where_nobody_reads(site, line):
    months = [(month, 2.0, 12.0, 60.0) for month in range(1, 13)]
    set_normals(site=site, months=months)
    assert line().words == (
        "No readings in the last week: the plan reckons with the weather usual here, "
        "and amounts are less sure."
    )


def test_a_site_without_any_weather_says_what_that_means(line):
    assert line().words == "No weather yet: only work that needs none is planned."
    assert line().needs_weather


def test_a_day_to_come_that_nobody_forecast_is_not_seen(read, line):
    """A demonstration's record runs on beyond its own day."""
    read(1, tmin_c=-9.0)
    assert "Cold" not in line().words
