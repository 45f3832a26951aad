"""The one line of weather that matters."""

from datetime import timedelta

import pytest

from care.views.weather_line import weather_line
from orchard.actions.weather import import_days, set_normals, type_reading
from orchard.models import WeatherDay
from orchard.units import UnitSystem
from tests.conftest import TODAY


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
    return lambda units=UnitSystem.METRIC: weather_line(site, TODAY, units)


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"tmin_c": -2.0}, "Cold ahead: -2 °C expected tomorrow morning."),
        (
            {"tmin_c": 12.0, "tmax_c": 35.0},
            "Heat ahead: 35 °C expected tomorrow.",
        ),
        ({"rain_mm": 12.0}, "About 12 mm of rain expected tomorrow."),
        (
            {"tmin_c": 1.0, "tmax_c": 34.0, "rain_mm": 9.0},
            "Cold ahead: 1 °C expected tomorrow morning.",
        ),
    ],
)
def test_what_can_hurt_most_is_said_first(read, line, values, said):
    read(1, is_forecast=True, **values)
    assert line().words == said


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
    assert line().words.startswith("No readings since Friday")
    assert line().needs_weather


def test_usual_weather_stands_in_where_nobody_reads(site, line):
    months = [(month, 2.0, 12.0, 60.0) for month in range(1, 13)]
    set_normals(site=site, months=months)
    assert line().words == (
        "No readings in the last week: the plan reckons with the weather usual here."
    )


def test_a_site_without_any_weather_says_what_that_means(line):
    assert line().words == "No weather yet: only work that needs none is planned."
    assert line().needs_weather


def test_a_day_to_come_that_nobody_forecast_is_not_seen(read, line):
    """A demonstration's record runs on beyond its own day."""
    read(1, tmin_c=-9.0)
    assert "Cold" not in line().words
