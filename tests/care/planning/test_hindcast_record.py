"""What was known on a Monday: nothing of that day or later, and no later forecast."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from care.planning.hindcast_record import (
    as_it_came,
    digest_of,
    foreseen,
    known_on,
    read_record,
)
from orchard.actions.weather import import_days, read_series
from orchard.models import WeatherBatch, WeatherDay, WeatherSeries
from orchard.sources.normals import NormalsTable
from tests.care.planning.hindcast_cases import seattle, stored
from tests.conftest import TODAY

DAY = timedelta(days=1)
MONDAY = date(2014, 5, 12)
NORMALS = NormalsTable((1.0,) * 12, (9.0,) * 12, (31.0,) * 12)


def test_mondays_begin_with_a_week_of_weather_and_end_with_the_record():
    mondays = seattle().mondays
    assert (mondays[0], mondays[-1]) == (date(2012, 1, 9), date(2015, 12, 28))
    assert len(mondays) == 208
    assert {monday.weekday() for monday in mondays} == {0}


def test_a_week_alone_has_no_monday():
    record = replace(seattle(), observed=seattle().observed[:7])
    assert record.mondays == []
    assert not record.is_long_enough
    assert seattle().is_long_enough


def test_nothing_observed_on_the_monday_or_later_is_known():
    known = known_on(seattle(), MONDAY)
    assert known is not None
    place = known.index(MONDAY)
    assert set(known.origin[:place]) == {"o"}
    assert set(known.origin[place:]) == {"n"}
    whole = as_it_came(seattle())
    assert whole is not None
    assert np.array_equal(known.tmin_c[:place], whole.tmin_c[:place])


def test_what_is_usual_is_reckoned_from_the_days_before():
    """July 2012 alone, as only one July was over on that Monday."""
    known = known_on(seattle(), date(2013, 6, 3))
    assert known is not None
    july = known.index(date(2013, 7, 16))
    whole = as_it_came(seattle())
    assert whole is not None
    first = whole.index(date(2012, 7, 1))
    mean = whole.tmax_c[first : first + 31].mean()
    assert abs(known.tmax_c[july] - mean) < 0.3


def test_typed_months_stand_in_until_the_record_makes_a_year():
    record = replace(seattle(), normals=NORMALS)
    early = known_on(record, date(2012, 6, 4))
    late = known_on(record, MONDAY)
    assert early is not None
    assert late is not None
    assert np.allclose(early.tmin_c[early.index(date(2012, 6, 4)) :], 1.0)
    assert late.tmin_c[late.index(MONDAY)] > 5
    without = known_on(seattle(), date(2012, 6, 4))
    assert without is None or not without.covers(date(2012, 6, 4))


def test_a_forecast_counts_from_the_morning_it_was_issued():
    def forecast(issued, tmin_c):
        days = [
            stored(issued + n * DAY, tmin_c, 40.0, 1.0, issued_on=issued)
            for n in range(4)
        ]
        return {issued: days}

    forecasts = {
        **forecast(MONDAY - DAY, 11.0),
        **forecast(MONDAY, 12.0),
        **forecast(MONDAY + DAY, 13.0),
    }
    known = known_on(replace(seattle(), forecasts=forecasts), MONDAY)
    assert known is not None
    place = known.index(MONDAY)
    assert known.origin[place - 1 : place + 5] == "offffn"
    assert set(known.tmin_c[place : place + 4]) == {12.0}


def test_a_perfect_forecast_is_the_record_itself():
    whole = as_it_came(seattle())
    assert whole is not None
    assert whole.end == date(2015, 12, 31)
    told = foreseen(whole, MONDAY)
    place = told.index(MONDAY)
    assert set(told.origin[:place]) == {"o"}
    assert set(told.origin[place:]) == {"f"}
    assert told.tmin_c is whole.tmin_c
    assert set(foreseen(whole, date(2011, 1, 3)).origin) == {"f"}


def test_the_digest_moves_with_any_weather_and_with_nothing_else():
    record = seattle()
    again = replace(record, observed=tuple(record.observed))
    changed = replace(
        record, observed=(*record.observed[:-1], stored(date(2015, 12, 31), 0, 1, 2))
    )
    assert digest_of(again) == digest_of(record)
    assert digest_of(changed) != digest_of(record)
    assert digest_of(replace(record, normals=NORMALS)) != digest_of(record)


def forecast_of(site, source):
    series = WeatherSeries.objects.create(
        kind="forecast", name="Forecast", source=source, owner=None if source else site
    )
    read_series(site=site, series=series)
    batch = WeatherBatch.objects.create(series=series, label="x")
    WeatherDay.objects.create(
        batch=batch, day=TODAY - DAY, issued_on=TODAY - 2 * DAY, tmin_c=3.0, tmax_c=9.0
    )


def test_forecasts_are_read_where_a_service_sent_them(site):
    """The demonstration's are its own record; people's own may know too much."""
    days = [(TODAY - n * DAY, {"tmin_c": 5.0, "tmax_c": 15.0}) for n in range(3)]
    import_days(site=site, days=days, label="x", person=None)
    forecast_of(site, "")
    assert read_record(site, TODAY).forecasts == {}
    forecast_of(site, "a_service")
    record = read_record(site, TODAY)
    assert list(record.forecasts) == [TODAY - 2 * DAY]
    assert (record.first, record.last) == (TODAY - 2 * DAY, TODAY - DAY)
    assert record.site.last_frost is None


def test_a_day_under_way_is_not_over_but_a_demonstration_goes_on(site):
    days = [(TODAY + n * DAY, {"tmin_c": 5.0, "tmax_c": 15.0}) for n in (-2, -1, 0)]
    import_days(site=site, days=days, label="x", person=None)
    assert read_record(site, TODAY).last == TODAY - DAY
    assert read_record(site, TODAY - DAY).last == TODAY


def test_a_site_without_weather_has_a_record_of_nothing(site):
    record = read_record(site, TODAY)
    assert not record.is_long_enough
    assert record.observed == ()
