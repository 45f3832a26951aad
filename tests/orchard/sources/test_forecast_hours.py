from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, strategies as st

from orchard.sources.arriving import AskedPlace
from orchard.sources.forecast_hours import ENOUGH_HOURS, LocalDays, midnight
from orchard.sources.problems import SourceError

HOUR = timedelta(hours=1)


def at_noon(day, zone):
    zone = ZoneInfo(zone)
    noon = datetime.combine(day, datetime.min.time(), zone) + 12 * HOUR
    return AskedPlace(47.0, 8.0, 400.0, zone, noon)


def local_days(day=date(2026, 6, 1), zone="Europe/Zurich"):
    place = at_noon(day, zone)
    return LocalDays(place), midnight(day, place.zone)


# The clocks of 2026 by the tz database: 29 March and 25 October in Europe; in Havana
# they change at midnight, on 8 March; Samoa had no 30 December 2011.
@pytest.mark.parametrize(
    ("day", "zone", "hours"),
    [
        (date(2026, 3, 29), "Europe/Zurich", 23),
        (date(2026, 10, 25), "Europe/Zurich", 25),
        (date(2026, 3, 8), "America/Havana", 23),
        (date(2026, 11, 1), "America/Havana", 25),
        (date(2028, 2, 29), "Asia/Kolkata", 24),
        (date(2026, 4, 5), "Australia/Lord_Howe", 24.5),
    ],
)
def test_a_day_has_the_hours_of_its_clock(day, zone, hours):
    days, begin = local_days(day, zone)
    days.add("rain", begin, begin + timedelta(days=3), 72.0)
    days.hold("temperature", begin, begin + timedelta(days=3), 10.0)
    first = days.days()[0]
    assert first.day == day
    assert first.rain_mm == pytest.approx(hours)
    assert first.hours == round(hours)


def test_a_day_the_calendar_skipped_is_no_day():
    days, begin = local_days(date(2011, 12, 29), "Pacific/Apia")
    days.add("rain", begin, begin + timedelta(hours=48), 48.0)
    assert [(each.day.day, each.rain_mm) for each in days.days()] == [
        (29, pytest.approx(24.0)),
        (31, pytest.approx(24.0)),
    ]


def test_rain_across_midnight_is_shared_out_by_time():
    days, begin = local_days()
    night = begin + timedelta(hours=22)
    days.add("rain", begin, night, 0.0)
    days.add("rain", night, night + 4 * HOUR, 8.0)
    days.add("rain", night + 4 * HOUR, night + 26 * HOUR, 0.0)
    assert [each.rain_mm for each in days.days()] == [
        pytest.approx(4.0),
        pytest.approx(4.0),
    ]


@pytest.mark.parametrize("hours", [ENOUGH_HOURS - 1, ENOUGH_HOURS])
def test_half_a_day_has_no_extremes_and_no_rain(hours):
    days, begin = local_days()
    days.hold("temperature", begin, begin + hours * HOUR, 4.0)
    days.add("rain", begin, begin + hours * HOUR, 9.0)
    days.give_low(date(2026, 6, 2), 1.0)
    first = days.days()[0]
    if hours < ENOUGH_HOURS:
        assert first.day == date(2026, 6, 2)
    else:
        assert (first.tmin_c, first.tmax_c, first.rain_mm) == (4.0, 4.0, 9.0)


def test_what_was_forecast_for_yesterday_is_dropped():
    days, begin = local_days()
    days.add("rain", begin - 24 * HOUR, begin + 24 * HOUR, 10.0)
    days.give_low(date(2026, 5, 31), -5.0)
    days.give_high(date(2026, 5, 31), 30.0)
    days.meet(begin - 3 * HOUR, begin + 3 * HOUR, 7.0, 31.0)
    days.hold("temperature", begin, begin + 24 * HOUR, 12.0)
    (only,) = days.days()
    assert only.day == date(2026, 6, 1)
    assert (only.tmin_c, only.tmax_c) == (7.0, 12.0)
    assert only.rain_mm == pytest.approx(5.0)


def test_the_cold_of_a_span_across_midnight_is_the_later_days():
    days, begin = local_days()
    days.hold("temperature", begin, begin + 48 * HOUR, 15.0)
    days.meet(begin + 21 * HOUR, begin + 27 * HOUR, 3.0, 18.0)
    first, second = days.days()
    assert (first.tmin_c, first.tmax_c) == (15.0, 18.0)
    assert (second.tmin_c, second.tmax_c) == (3.0, 15.0)


def test_a_named_extreme_is_widened_by_the_hours_beyond_it():
    days, begin = local_days()
    days.give_low(date(2026, 6, 1), 8.0)
    days.give_high(date(2026, 6, 1), 20.0)
    days.hold("temperature", begin + 22 * HOUR, begin + 24 * HOUR, 2.0)
    (only,) = days.days()
    assert (only.tmin_c, only.tmax_c) == (2.0, 20.0)


def test_a_day_colder_than_the_night_before_keeps_both():
    days, _ = local_days()
    days.give_low(date(2026, 6, 1), 5.0)
    days.give_high(date(2026, 6, 1), 3.0)
    (only,) = days.days()
    assert (only.tmin_c, only.tmax_c) == (3.0, 5.0)


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("temperature", -99.9, "-99.9 °C is not possible"),
        ("humidity", 130.0, "130.0 % is not possible"),
        ("wind", -1.0, "-1.0 m/s is not possible"),
        ("gust", 300.0, "a gust of 300.0 m/s is not possible"),
    ],
)
def test_a_value_that_cannot_be_is_refused(name, value, words):
    days, begin = local_days()
    with pytest.raises(SourceError, match=words):
        days.hold(name, begin, begin + 24 * HOUR, value)


def test_a_days_sum_that_cannot_be_is_refused():
    days, begin = local_days()
    for hour in range(24):
        days.add("rain", begin + hour * HOUR, begin + (hour + 1) * HOUR, 30.0)
    with pytest.raises(SourceError, match=r"for 2026-06-01, 720\.0 mm"):
        days.days()
    with pytest.raises(SourceError, match="no forecast for today or later"):
        local_days()[0].days()


def test_a_little_above_saturation_is_saturation():
    days, begin = local_days()
    days.hold("humidity", begin, begin + 24 * HOUR, 101.0)
    assert days.days()[0].humidity_percent == 100.0


@given(
    st.lists(
        st.tuples(st.integers(0, 300), st.integers(1, 60), st.floats(0, 2)), max_size=30
    ),
    st.sampled_from(["Europe/Zurich", "America/Havana", "Asia/Kathmandu", "UTC"]),
    st.dates(date(2026, 1, 1), date(2026, 12, 31)),
)
def test_no_drop_of_rain_is_lost_or_doubled(spans, zone, day):
    days, begin = local_days(day, zone)
    days.add("rain", begin, begin + timedelta(days=17), 0.0)
    for hour, length, amount in spans:
        first = begin + hour * HOUR
        days.add("rain", first, first + length * HOUR, amount)
    total = sum(each.rain_mm for each in days.days())
    assert total == pytest.approx(sum(amount for _, _, amount in spans), abs=1e-6)
