"""One series a site: observed before forecast before normals, gaps are never zeros."""

from datetime import date, timedelta

import numpy as np
import pytest

from care.planning.weather_days import read_weather, typed_minimum_c, weather_series
from orchard.actions.weather import (
    import_days,
    read_series,
    set_normals,
    take_back_batch,
    type_reading,
)
from orchard.models import WeatherBatch, WeatherDay, WeatherSeries
from tests.conftest import TODAY

DAY = timedelta(days=1)
NORMALS = [(month, 5.0, 15.0, 31.0) for month in range(1, 13)]


def values(
    tmin: float | None = 10.0, tmax: float | None = 20.0, rain: float | None = 0.0
):
    return {"tmin_c": tmin, "tmax_c": tmax, "rain_mm": rain}


def series(site, today: date = TODAY):
    found = weather_series(read_weather(site, today), today)
    assert found is not None
    return found


def forecast(site, issued: date, days: dict[date, float]) -> None:
    one, is_new = WeatherSeries.objects.get_or_create(owner=site, kind="forecast")
    if is_new:
        read_series(site=site, series=one)
    batch = WeatherBatch.objects.create(series=one, label="issued")
    for day, tmin in days.items():
        WeatherDay.objects.create(
            batch=batch, day=day, issued_on=issued, **values(tmin)
        )


def test_a_site_without_weather_has_no_series(site):
    assert weather_series(read_weather(site, TODAY), TODAY) is None


def test_twelve_normals_alone_fill_past_and_future(site):
    set_normals(site=site, months=NORMALS)
    found = series(site)
    assert set(found.origin) == {"n"}
    assert found.covers(TODAY - 365 * DAY)
    assert found.covers(TODAY + 150 * DAY)
    assert np.allclose(found.tmin_c, 5.0)


def test_observed_days_replace_normals_and_keep_their_gaps(site):
    set_normals(site=site, months=NORMALS)
    yesterday = TODAY - DAY
    import_days(
        site=site, days=[(yesterday, values(rain=None))], label="x", person=None
    )
    found = series(site)
    at = found.index(yesterday)
    assert found.origin[at] == "o"
    assert found.tmin_c[at] == 10.0
    assert np.isnan(found.rain_mm[at])


def test_a_reading_at_the_site_beats_the_station(site):
    yesterday = TODAY - DAY
    import_days(site=site, days=[(yesterday, values(rain=1.0))], label="x", person=None)
    type_reading(site=site, day=yesterday, values={"rain_mm": 12.5}, person=None)
    found = series(site)
    assert found.rain_mm[found.index(yesterday)] == 12.5
    assert found.tmin_c[found.index(yesterday)] == 10.0


def test_taking_an_import_back_restores_the_one_before(site):
    yesterday = TODAY - DAY
    import_days(site=site, days=[(yesterday, values(rain=1.0))], label="a", person=None)
    second = import_days(
        site=site, days=[(yesterday, values(rain=9.0))], label="b", person=None
    )
    assert series(site).rain_mm[series(site).index(yesterday)] == 9.0
    assert take_back_batch(site=site, batch_id=second.pk)
    assert series(site).rain_mm[series(site).index(yesterday)] == 1.0


def test_the_newest_forecast_counts_and_only_from_its_day_on(site):
    set_normals(site=site, months=NORMALS)
    forecast(site, TODAY - DAY, {TODAY: 1.0, TODAY + DAY: 2.0})
    forecast(site, TODAY, {TODAY: 3.0})
    forecast(site, TODAY + DAY, {TODAY + DAY: 9.0})
    found = series(site)
    at = found.index(TODAY)
    assert found.origin[at : at + 3] == "ffn"
    assert list(found.tmin_c[at : at + 2]) == [3.0, 2.0]


def test_where_not_even_the_usual_is_known_nothing_is_made_up_before_the_first_day(
    site,
):
    """A year of which nobody knows any rain would be a year of drought."""
    forecast(site, TODAY, {TODAY: 1.0, TODAY + DAY: 2.0})
    assert series(site).start == TODAY
    set_normals(site=site, months=NORMALS)
    assert series(site).covers(TODAY - 365 * DAY)


def test_of_a_day_that_is_over_what_was_forecast_on_it_stands_where_nobody_measured(
    site,
):
    set_normals(site=site, months=NORMALS)
    forecast(site, TODAY - 3 * DAY, {TODAY - 3 * DAY: 1.0, TODAY - 2 * DAY: 2.0})
    forecast(site, TODAY - DAY, {TODAY - DAY: 4.0})
    import_days(
        site=site,
        days=[(TODAY - DAY, values(tmin=7.0, rain=None))],
        label="x",
        person=None,
    )
    found = series(site)
    at = found.index(TODAY - 3 * DAY)
    assert found.origin[at : at + 4] == "fnon"
    assert list(found.tmin_c[at : at + 3]) == [1.0, 5.0, 7.0]
    # The measured day lacks its rain: what was forecast for it stands.
    assert found.rain_mm[at + 2] == 0.0


@pytest.mark.parametrize("later", [0, 1, 30])
def test_a_past_day_sees_nothing_later(site, later):
    import_days(
        site=site,
        days=[(TODAY + later * DAY, values(rain=50.0))],
        label="x",
        person=None,
    )
    set_normals(site=site, months=NORMALS)
    assert "o" not in series(site).origin


def test_tonights_typed_minimum_is_found(site):
    assert typed_minimum_c(site, TODAY) is None
    type_reading(site=site, day=TODAY + DAY, values={"tmin_c": -2.0}, person=None)
    one = WeatherDay.objects.get()
    one.issued_on = TODAY
    one.save()
    assert typed_minimum_c(site, TODAY) == -2.0


def test_todays_gauge_counts_at_once_and_beats_todays_forecast(site):
    forecast(site, TODAY, {TODAY: 3.0, TODAY + DAY: 2.0})
    type_reading(site=site, day=TODAY, values={"rain_mm": 22.0}, person=None)
    found = series(site)
    at = found.index(TODAY)
    assert (found.rain_mm[at], found.tmin_c[at]) == (22.0, 3.0)
    assert found.origin[at : at + 2] == "of"


def test_a_record_of_a_whole_year_gives_the_usual_weather_itself(site):
    days = [
        (
            TODAY - n * DAY,
            {"tmin_c": 5.0 + n % 2, "tmax_c": 15.0 + n % 2, "rain_mm": n % 2 * 2},
        )
        for n in range(1, 400)
    ]
    import_days(site=site, days=days, label="x", person=None)
    found = series(site)
    ahead = found.index(TODAY)
    assert set(found.origin[ahead:]) == {"n"}
    assert np.allclose(found.tmin_c[ahead:], 5.5, atol=0.1)
    assert np.allclose(found.rain_mm[ahead:], 1.0, atol=0.1)


def test_half_a_year_of_record_does_not_pretend_to_know_the_rest(site):
    days = [(TODAY - n * DAY, values(10.0 + n % 2)) for n in range(1, 180)]
    import_days(site=site, days=days, label="x", person=None)
    assert series(site).end == TODAY - DAY
