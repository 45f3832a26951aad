"""Days made of a station's readings: extremes, means, and rain that is never guessed."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, strategies as st

from orchard.sources.quality_hours import Why
from orchard.sources.sent_days import rain_so_far_mm, sent_day, span_of
from orchard.sources.station_push import PushedReading, read_push
from orchard.sources.wind_height import at_two_metres
from tests.orchard.sources.airport_hours import JFK_MAY_2013, NEWARK_FEBRUARY_2013

ZONE = ZoneInfo("America/Los_Angeles")
EASTERN = ZoneInfo("America/New_York")
DAY = date(2025, 7, 2)
BEGIN = span_of(DAY, ZONE)[0]


def hourly(count=25, **values):
    """Return a reading an hour from midnight on; a function makes a value of an hour."""
    return [
        PushedReading(
            BEGIN + timedelta(hours=hour),
            **{
                name: value(hour) if callable(value) else value
                for name, value in values.items()
            },
        )
        for hour in range(count)
    ]


def made(readings, height_m=2.0):
    return sent_day(readings, DAY, ZONE, height_m)


def test_a_whole_day_has_its_extremes_and_means():
    found = made(
        hourly(
            temp_c=lambda hour: 10 + hour % 12,
            humidity_percent=60.0,
            radiation_wm2=250.0,
            wind_ms=3.0,
            gust_ms=float,
            rain_day_mm=0.0,
        )
    )
    assert found.doubts == ()
    assert found.values == {
        "tmin_c": 10.0,
        "tmax_c": 21.0,
        "rain_mm": 0.0,
        "humidity_percent": 60.0,
        "wind_ms": pytest.approx(3.0, rel=2e-3),
        "gust_ms": 24.0,
        # FAO-56 (Allen et al. 1998), table 3: 1 W m-2 is 0.0864 MJ m-2 day-1.
        "radiation_mj": pytest.approx(21.6),
    }


def test_wind_is_brought_down_to_two_metres():
    """FAO-56 (Allen et al. 1998), example 14: 3.2 m/s at 10 m are 2.4 at 2 m."""
    assert at_two_metres(3.2, 10.0) == pytest.approx(2.4, abs=0.05)
    found = made(hourly(wind_ms=3.2), height_m=10.0)
    assert found.values["wind_ms"] == pytest.approx(2.4, abs=0.05)
    assert at_two_metres(3.0, 0.0) == at_two_metres(3.0, 0.5)


@pytest.mark.parametrize(("hours", "is_known"), [(21, True), (20, False)])
def test_extremes_need_nearly_all_hours(hours, is_known):
    found = made(hourly(hours, temp_c=lambda hour: 10.0 + hour, humidity_percent=50.0))
    assert (found.values["tmin_c"] is not None) is is_known
    assert (found.values["humidity_percent"] is not None) is is_known


@pytest.mark.parametrize(
    ("day", "hours"), [(date(2025, 3, 9), 23), (date(2025, 11, 2), 25)]
)
def test_days_on_which_the_clocks_change_have_23_or_25_hours(day, hours):
    begin, end = span_of(day, ZONE)
    assert end - begin == timedelta(hours=hours)
    readings = [
        PushedReading(begin + timedelta(hours=n), temp_c=10.0 + n, rain_hour_mm=1.0)
        for n in range(1, hours + 1)
    ]
    found = sent_day(readings, day, ZONE, 2.0).values
    assert (found["tmax_c"], found["rain_mm"]) == (10.0 + hours, hours)


def test_rain_is_what_the_station_counted_since_our_midnight():
    before = PushedReading(BEGIN - timedelta(minutes=5), rain_day_mm=7.0)
    day = hourly(rain_day_mm=lambda hour: 0.0 if hour < 9 else 4.0)
    assert made([before, *day]).values["rain_mm"] == 4.0


def test_a_count_that_goes_on_past_our_midnight_is_not_counted_again():
    """Its midnight is ours only by the same clock; this station's is an hour late."""
    before = PushedReading(BEGIN - timedelta(minutes=5), rain_day_mm=7.0)
    counts = [7.0, 8.0, 0.0, *[0.0] * 19, 3.0, 3.0, 3.0]
    day = hourly(rain_day_mm=lambda hour: counts[hour])
    assert made([before, *day]).values["rain_mm"] == 1.0 + 3.0


def test_a_count_set_back_within_the_day_goes_on_from_nothing():
    counts = [0.0] * 6 + [5.0] * 6 + [1.0] * 6 + [2.5] * 7
    day = hourly(rain_day_mm=lambda hour: counts[hour])
    assert made(day).values["rain_mm"] == 5.0 + 2.5


def test_after_a_silent_night_the_first_count_is_the_days():
    before = PushedReading(BEGIN - timedelta(hours=3), rain_day_mm=4.0)
    late = [
        one for one in hourly(rain_day_mm=6.0) if one.at > BEGIN + timedelta(hours=7)
    ]
    assert made([before, *late]).values["rain_mm"] == 6.0


@pytest.mark.parametrize(("counted", "expected"), [(0.0, None), (12.0, 12.0)])
def test_an_evening_nobody_heard_of_makes_no_dry_day(counted, expected):
    found = made(hourly(18, rain_day_mm=lambda hour: counted if hour else 0.0))
    assert found.values["rain_mm"] == expected


def test_without_a_count_the_hours_are_added_up():
    assert made(hourly(rain_hour_mm=0.5)).values["rain_mm"] == 12.0
    assert made(hourly(15, rain_hour_mm=0.5)).values["rain_mm"] is None
    assert rain_so_far_mm(hourly(5, rain_hour_mm=0.5), DAY, ZONE) == 2.0


def test_silence_is_a_day_without_values():
    found = made([])
    assert set(found.values.values()) == {None}


def test_impossible_rain_is_set_aside():
    found = made(hourly(rain_day_mm=lambda hour: 700.0 if hour else 0.0))
    assert found.values["rain_mm"] is None
    assert [(each.variable, each.why) for each in found.doubts] == [
        ("rain_mm", Why.BOUNDS)
    ]


def test_a_sensor_that_stands_still_half_a_day_is_doubted():
    found = made(hourly(temp_c=lambda hour: 20.0 if hour > 6 else 10.0 + hour))
    assert found.values["tmin_c"] is None
    assert {(each.variable, each.why) for each in found.doubts} == {
        ("tmax_c", Why.STUCK)
    }


def of_airport(rows):
    """Return the readings of a list of (UTC, degF, mph), as a station sends them."""
    now = datetime(2013, 6, 1, tzinfo=UTC)
    return [
        replace(
            read_push({"dateutc": "now", "tempf": temp, "windspeedmph": wind}, now),
            at=datetime.fromisoformat(at).replace(tzinfo=UTC),
        )
        for at, temp, wind in rows
    ]


def test_the_false_frost_of_kennedy_airport_is_set_aside():
    """13.1 degF among 57: degC written as degF, for 13.1 degC are 55.6 degF."""
    found = sent_day(of_airport(JFK_MAY_2013), date(2013, 5, 8), EASTERN, 10.0)
    assert found.values["tmin_c"] == pytest.approx(10.0, abs=3.0)
    assert [(each.variable, each.why) for each in found.doubts] == [
        ("tmin_c", Why.UNIT)
    ]
    assert found.doubts[0].value == pytest.approx(-10.5)


def test_the_storm_of_newark_that_never_blew_is_set_aside():
    """1048 mph, twice as fast as any wind on record."""
    found = sent_day(of_airport(NEWARK_FEBRUARY_2013), date(2013, 2, 12), EASTERN, 10.0)
    assert 3.0 < found.values["wind_ms"] < 8.0
    assert [(each.variable, each.why) for each in found.doubts] == [
        ("wind_ms", Why.BOUNDS)
    ]


@given(
    st.permutations(
        hourly(temp_c=lambda hour: 9.0 + hour, rain_day_mm=lambda hour: hour)
    )
)
def test_the_order_in_which_readings_come_does_not_matter(readings):
    assert made(readings).values["tmax_c"] == 33.0
    assert made(readings).values["rain_mm"] == 24.0


@given(
    st.lists(st.floats(0, 30), min_size=25, max_size=25),
    st.integers(0, 24),
)
def test_counted_rain_is_never_negative_and_never_less_than_the_last_count(falls, cut):
    counts = [
        sum(falls[cut:hour]) if hour >= cut else sum(falls[:hour]) for hour in range(25)
    ]
    found = made(hourly(rain_day_mm=lambda hour: counts[hour]))
    total = rain_so_far_mm(hourly(rain_day_mm=lambda hour: counts[hour]), DAY, ZONE)
    assert total >= counts[-1] - 1e-6
    assert found.values["rain_mm"] is None or found.values["rain_mm"] >= 0
