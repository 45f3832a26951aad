"""Rain of a day under way, and that page and plan put a day together alike."""

from datetime import UTC, datetime, timedelta
from math import isnan

import pytest

from care.planning.days_ahead import read_near_days
from care.planning.weather_days import read_weather, weather_series
from orchard.actions.station_keys import make_key, take_reading
from orchard.actions.weather import import_days, read_series, set_normals, type_reading
from orchard.models import WeatherBatch, WeatherDay, WeatherSeries
from orchard.sources.known_days import days_around
from orchard.sources.station_push import PushedReading
from tests.conftest import TODAY

DAY = timedelta(days=1)
NOON = datetime(2025, 7, 2, 19, tzinfo=UTC)  # of the site


@pytest.fixture
def lived_in(cast, site):
    """A site with a gauge, a station, a file, a forecast and usual months."""
    set_normals(site=site, months=[(month, 5.0, 15.0, 31.0) for month in range(1, 13)])
    days = [
        (TODAY - n * DAY, {"tmin_c": 8.0 + n % 2, "tmax_c": 18.0, "rain_mm": 1.0 * n})
        for n in range(2, 7)
    ]
    import_days(site=site, days=days, label="file", person=None)
    service = WeatherSeries.objects.create(owner=site, kind="forecast", name="Service")
    read_series(site=site, series=service)
    batch = WeatherBatch.objects.create(series=service, label="issued")
    for ahead in range(4):
        WeatherDay.objects.create(
            batch=batch,
            day=TODAY + ahead * DAY,
            issued_on=TODAY,
            tmin_c=9.0,
            tmax_c=None if ahead == 2 else 21.0,
            rain_mm=4.0,
        )
    type_reading(site=site, day=TODAY - 3 * DAY, values={"rain_mm": 9.5}, person=None)
    low = {"tmin_c": 2.5}
    type_reading(site=site, day=TODAY, values=low, person=None, issued_on=TODAY)
    key, _ = make_key(
        site=site, name="Roof", wind_height_m=2.0, person=cast.owner, now=NOON
    )
    return site, key


def send_rain(key, rain_mm):
    reading = PushedReading(NOON, temp_c=18.0, rain_day_mm=rain_mm)
    take_reading(key=key, reading=reading, now=NOON)


@pytest.mark.parametrize(("fell", "counts"), [(2.0, 4.0), (12.0, 12.0)])
def test_rain_that_fell_raises_todays_forecast_and_lowers_none(lived_in, fell, counts):
    site, key = lived_in
    send_rain(key, fell)
    series = weather_series(read_weather(site, TODAY), TODAY)
    assert series.rain_mm[series.index(TODAY)] == counts
    assert read_near_days(site, TODAY).ahead[TODAY].rain_mm == 4.0


def test_the_morning_before_does_not_see_the_rain_of_the_day(lived_in):
    site, key = lived_in
    send_rain(key, 12.0)
    series = weather_series(read_weather(site, TODAY - DAY), TODAY - DAY)
    assert series.origin[series.index(TODAY - DAY) :] == "n" * 201


def test_the_page_and_the_plan_put_each_day_together_alike(lived_in):
    site, key = lived_in
    send_rain(key, 12.0)
    series = weather_series(read_weather(site, TODAY), TODAY)
    for day in days_around(site, TODAY, back=8, ahead=6):
        for name in ("tmin_c", "tmax_c", "rain_mm"):
            planned = float(getattr(series, name)[series.index(day.day)])
            shown, told = getattr(day, name), series.told(name, day.day)
            if told.is_filled:
                # The page names the usual where the plan fills from the days around.
                assert day.told[name].what == "normal"
            elif shown is None:
                assert isnan(planned)
            else:
                assert planned == pytest.approx(shown)
                assert day.told[name].series_name == told.series
