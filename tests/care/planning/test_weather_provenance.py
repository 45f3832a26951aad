"""Laws of the one series: whose value counts, what is filled, and what never is."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, strategies as st

from care.facts import Known, ValueOrigin, WeatherSeries
from care.facts.weather import VALUES
from care.planning.site_weather import judge_weather
from care.planning.weather_days import SiteReadings, StoredDay, weather_series
from orchard.sources.normals import NormalsTable
from tests.care.planning.water_cases import SITE

TODAY = date(2024, 3, 4)  # the week holds a 29 February
DAY = timedelta(days=1)
NAMES = ("Gauge", "Roof", "File", "Service")
GAUGE, ROOF, FILE, SERVICE = range(4)
FLAT = NormalsTable((5.0,) * 12, (15.0,) * 12, (31.0,) * 12)
NOTHING = (None,) * len(VALUES)


def row(day, low=None, high=None, rain=None, **more):
    values = (low, high, rain, None, None, None, None)
    return StoredDay(day, more.pop("issued_on", None), values, **more)


def composed(*rows, normals=FLAT, names=NAMES):
    found = weather_series(SiteReadings(rows, normals, names), TODAY)
    assert found is not None
    return found


def told(series, name, day):
    origin = series.told(name, day)
    return float(getattr(series, name)[series.index(day)]), origin.known, origin.series


def test_the_gauge_at_the_site_beats_the_station_and_the_file_for_that_day():
    """Rain of one day from three: the gauge's counts; the others' lows still do."""
    day = TODAY - 2 * DAY
    rows = (
        row(day, 1.0, 9.0, 4.0, series=FILE),
        row(day, 2.0, 10.0, 6.0, series=ROOF),
        row(day, rain=11.0, series=GAUGE),
        row(day - DAY, 1.5, 9.5, 3.0, series=ROOF),
    )
    found = composed(*rows)
    assert told(found, "rain_mm", day) == (11.0, Known.OBSERVED, "Gauge")
    assert told(found, "tmin_c", day) == (2.0, Known.OBSERVED, "Roof")
    assert told(found, "rain_mm", day - DAY) == (3.0, Known.OBSERVED, "Roof")
    assert found.origin[found.index(day)] == "o"


def test_a_forecast_says_when_it_was_issued_and_the_rest_is_usual():
    found = composed(
        row(TODAY, 1.0, 9.0, 2.0, series=SERVICE, issued_on=TODAY - DAY),
        row(TODAY, 0.0, series=SERVICE, issued_on=TODAY),
    )
    assert found.told("tmin_c", TODAY) == ValueOrigin(Known.FORECAST, "Service", TODAY)
    assert found.told("tmax_c", TODAY).issued_on == TODAY - DAY
    assert found.told("tmin_c", TODAY + DAY) == ValueOrigin(Known.NORMAL)
    assert found.origin[found.index(TODAY) :][:2] == "fn"


@pytest.mark.parametrize(
    ("so_far", "counts"), [(3.0, (8.0, "Service")), (20.0, (20.0, "Roof"))]
)
def test_rain_so_far_raises_the_forecast_of_today_and_never_lowers_it(so_far, counts):
    under_way = row(TODAY, rain=so_far, series=ROOF, issued_on=TODAY, is_so_far=True)
    forecast = row(TODAY, 1.0, 9.0, 8.0, series=SERVICE, issued_on=TODAY)
    value, _, name = told(composed(under_way, forecast), "rain_mm", TODAY)
    assert (value, name) == counts
    gauge = row(TODAY, rain=5.0, series=GAUGE)
    found = composed(under_way, forecast, gauge)
    assert told(found, "rain_mm", TODAY) == (5.0, Known.OBSERVED, "Gauge")


def test_rain_so_far_alone_makes_no_hole_in_todays_temperatures():
    found = composed(row(TODAY, rain=9.0, series=ROOF, issued_on=TODAY, is_so_far=True))
    assert told(found, "rain_mm", TODAY)[0] == 9.0
    assert told(found, "tmin_c", TODAY) == (5.0, Known.NORMAL, "")
    assert found.origin[found.index(TODAY)] == "f"


def days_with_a_gap(length, rain=1.0):
    return [
        row(TODAY - n * DAY, 8.0 + n % 2, 18.0, rain, series=FILE)
        for n in range(1, 60)
        if not 20 <= n < 20 + length
    ] + [row(TODAY - n * DAY, rain=rain, series=GAUGE) for n in range(20, 20 + length)]


@pytest.mark.parametrize(("length", "how"), [(3, Known.BETWEEN), (4, Known.USUAL)])
def test_a_gap_in_temperature_is_filled_marked_and_left_open_beside(length, how):
    found = composed(*days_with_a_gap(length), normals=None)
    at = found.index(TODAY - 21 * DAY)
    assert np.isnan(found.tmin_c[at])
    assert found.told("tmin_c", TODAY - 21 * DAY) == ValueOrigin(how)
    assert found.told("tmin_c", TODAY - 21 * DAY).is_filled
    assert found.filled_tmin_c[at] == pytest.approx(8.5, abs=0.6)
    assert not np.isnan(found.filled_tmax_c).any()


def test_evaporation_of_a_filled_day_is_reckoned_from_what_fills_it():
    whole = judge_weather(SITE, composed(*days_with_a_gap(0)))
    filled = judge_weather(SITE, composed(*days_with_a_gap(2)))
    assert np.allclose(filled.et0_mm, whole.et0_mm, atol=0.2)
    assert (filled.is_rain_known == whole.is_rain_known).all()


def test_a_day_without_rain_is_unknown_and_not_dry():
    day = TODAY - 5 * DAY
    found = composed(row(day, 3.0, 9.0, None, series=FILE))
    at = found.index(day)
    assert np.isnan(found.rain_mm[at])
    assert found.told("rain_mm", day) == ValueOrigin(Known.UNKNOWN)
    assert not judge_weather(SITE, found).is_rain_known[at]


def test_leap_day_and_the_turn_of_the_year_take_their_own_usual():
    """Twelve different months: 29 February lies in February, in a common year too."""
    months = tuple(float(month) for month in range(1, 13))
    table = NormalsTable(months, tuple(m + 10 for m in months), (31.0,) * 12)
    found = composed(normals=table)
    leap = date(2024, 2, 29)
    assert float(found.tmin_c[found.index(leap)]) == pytest.approx(2.5, abs=0.2)
    assert found.index(date(2024, 3, 1)) == found.index(leap) + 1
    before = found.tmin_c[found.index(date(2023, 3, 1))]
    assert before == found.tmin_c[found.index(date(2024, 3, 1))]
    turn = [found.tmin_c[found.index(date(2024, 1, 1) + n * DAY)] for n in (-1, 0)]
    assert abs(turn[0] - turn[1]) < 0.6


def test_the_southern_summer_is_filled_across_the_turn_of_the_year():
    """A gap from 30 December: its usual are the days around it, not of July."""
    days = [date(2022, 12, 1) + n * DAY for n in range(450)]
    rows = [
        row(day, warmth_of_the_south(day), 30.0, 0.0, series=FILE)
        for day in days
        if not date(2023, 12, 28) <= day <= date(2024, 1, 5)
    ]
    found = composed(*rows, normals=None)
    filled = found.filled_tmin_c[found.index(date(2024, 1, 1))]
    assert filled == pytest.approx(20.0, abs=0.7)


def warmth_of_the_south(day):
    return 11 + 9 * np.cos(2 * np.pi * (day.timetuple().tm_yday - 1) / 365)


def test_a_series_without_provenance_tells_each_day_s_letter():
    values = np.array([1.0, np.nan])
    plain = WeatherSeries(TODAY, values, values, values, "fo")
    assert plain.told("rain_mm", TODAY) == ValueOrigin(Known.FORECAST)
    assert plain.told("rain_mm", TODAY + DAY) == ValueOrigin(Known.UNKNOWN)
    assert plain.told("wind_ms", TODAY) == ValueOrigin(Known.UNKNOWN)


amount = st.none() | st.floats(0, 30)
rows = st.builds(
    lambda back, low, rain, series, batch: row(
        TODAY - back * DAY,
        low,
        None if low is None else low + 9,
        rain,
        series=series,
        batch=batch,
    ),
    st.integers(1, 12),
    amount,
    amount,
    st.integers(0, 3),
    st.integers(0, 1_000_000),
)
readings = st.lists(rows, max_size=25, unique_by=lambda one: one.batch)


def same(one, other):
    return all(
        np.array_equal(getattr(one, name), getattr(other, name), equal_nan=True)
        for name in ("tmin_c", "tmax_c", "rain_mm", "filled_tmin_c")
    )


@given(readings, st.randoms())
def test_the_order_of_rows_does_not_matter(some, shuffler):
    shuffled = list(some)
    shuffler.shuffle(shuffled)
    one, other = composed(*some), composed(*shuffled)
    assert same(one, other)
    assert one.origin == other.origin
    assert (one.provenance.series == other.provenance.series).all()


@given(readings, readings)
def test_a_less_trusted_series_changes_no_value_a_more_trusted_one_has(some, more):
    trusted = [one._replace(series=one.series % 3) for one in some]
    less = [one._replace(series=SERVICE) for one in more]
    before, after = composed(*trusted), composed(*trusted, *less)
    for place, name in enumerate(("tmin_c", "tmax_c", "rain_mm")):
        is_known = before.provenance.known[place] == Known.OBSERVED
        old, new = getattr(before, name), getattr(after, name)
        assert (old[is_known] == new[is_known]).all()


@given(readings)
def test_no_missing_rain_becomes_zero_and_no_filled_day_is_called_observed(some):
    found = composed(*some)
    measured = {one.day: [] for one in some}
    for one in some:
        measured[one.day].append(one.values)
    for day, values in measured.items():
        rain = [value[2] for value in values if value[2] is not None]
        shown, known, _ = told(found, "rain_mm", day)
        any_value = any(one != NOTHING for one in values)
        if not rain and any_value:
            assert np.isnan(shown)
            assert known == Known.UNKNOWN
        assert known != Known.OBSERVED or shown in rain
        low = [value[0] for value in values if value[0] is not None]
        is_measured = found.told("tmin_c", day).known == Known.OBSERVED
        assert is_measured == bool(low)
    assert not np.isnan(found.filled_tmin_c).any()
    assert (found.filled_tmin_c <= found.filled_tmax_c).all()


@given(readings, readings)
def test_forecasts_change_nothing_that_was_observed(some, more):
    issued = [replace_issue(one) for one in more]
    before, after = composed(*some), composed(*some, *issued)
    stop = before.index(TODAY)
    assert np.array_equal(before.rain_mm[:stop], after.rain_mm[:stop], equal_nan=True)


def replace_issue(one):
    ahead = TODAY + (TODAY - one.day)
    return one._replace(day=ahead, issued_on=TODAY)
