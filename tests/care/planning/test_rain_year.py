"""Rain of the year at hand beside past years: when it begins, what counts."""

from datetime import date

import numpy as np
import pytest

from care.facts import WeatherSeries
from care.planning.rain_year import rain_year
from tests.care.planning.test_frost_outlook import BARE, SOUTH
from tests.care.planning.test_rain_lately import RECORD

TODAY = date(2015, 7, 21)


def even(*, unread=()):
    """Four years of 2 mm a day, from 1 January 2012."""
    days = len(RECORD)
    rain = np.full(days, 2.0)
    for first, last in unread:
        rain[RECORD.index(first) : RECORD.index(last) + 1] = np.nan
    mild = np.full(days, 15.0)
    return WeatherSeries(RECORD.start, mild, mild + 5, rain, "o" * days)


def test_a_marked_wet_season_is_counted_from_the_month_in_which_it_is_looked_for():
    found = rain_year(RECORD, BARE, TODAY)
    assert found.start == date(2014, 8, 1)
    assert found.past.starts == (date(2013, 8, 1), date(2012, 8, 1))
    assert found.unread_days == 0
    assert found.read_until == TODAY
    first, last = RECORD.index(found.start), RECORD.index(TODAY)
    assert found.fell_mm == pytest.approx(RECORD.rain_mm[first : last + 1].sum())
    before = RECORD.index(date(2013, 8, 1))
    assert found.past.sums[0, -1] == pytest.approx(
        RECORD.rain_mm[before : before + 365].sum()
    )


def test_elsewhere_it_is_counted_from_midwinter():
    found = rain_year(even(), BARE, date(2015, 3, 1))
    assert found.start == date(2015, 1, 1)
    assert found.fell_mm == pytest.approx(60 * 2.0)
    assert found.past.sums[:, -1] == pytest.approx([730.0] * 3)
    assert rain_year(even(), SOUTH, date(2015, 3, 1)).start == date(2014, 7, 1)
    assert rain_year(even(), SOUTH, date(2015, 8, 1)).start == date(2015, 7, 1)


def test_unread_days_count_as_dry_and_are_told():
    series = even(unread=[(date(2015, 2, 1), date(2015, 2, 5))])
    found = rain_year(series, BARE, date(2015, 3, 1))
    assert found.unread_days == 5
    assert found.fell_mm == pytest.approx(55 * 2.0)


def test_a_gauge_nobody_reads_any_more_ends_the_sum():
    series = even(unread=[(date(2015, 2, 1), date(2015, 12, 31))])
    found = rain_year(series, BARE, date(2015, 3, 1))
    assert found.read_until == date(2015, 1, 31)
    assert found.unread_days == 28
    assert found.fell_mm == pytest.approx(62.0)
    assert found.fan.firm_until == date(2015, 1, 31)
    # The likely rest goes on from the last reading: about 2 mm a day.
    assert found.fan.middle[-1] == pytest.approx(730.0, rel=0.1)


def test_a_year_of_which_nobody_read_anything_is_as_others_were():
    series = even(unread=[(date(2015, 1, 1), date(2015, 12, 31))])
    found = rain_year(series, BARE, date(2015, 3, 1))
    assert found.fan.firm_until < found.start
    assert found.fell_mm is None
    assert found.unread_days == 59


def test_generated_years_join_few_past_ones_where_the_usual_rain_is_known():
    found = rain_year(even(), BARE, date(2015, 3, 1))
    assert (found.fan.members.past_years, found.fan.members.generated) == (3, 27)
    # Generated years are as wet as the usual 2 mm a day, some drier, some wetter.
    assert found.fan.low[-1] < found.fan.middle[-1] < found.fan.high[-1]
    assert found.fan.middle[-1] == pytest.approx(730, rel=0.1)
    # A place of which no rain is known at all has nothing to go by.
    unread = even(unread=[(date(2012, 1, 1), date(2015, 12, 31))])
    assert rain_year(unread, BARE, date(2015, 3, 1)).fan is None


def test_past_years_with_too_few_readings_do_not_count():
    series = even(unread=[(date(2013, 3, 1), date(2013, 5, 1))])
    found = rain_year(series, BARE, date(2015, 3, 1))
    assert [start.year for start in found.past.starts] == [2014, 2012]


def test_on_its_first_day_the_year_is_as_past_ones_were():
    found = rain_year(even(), BARE, date(2015, 1, 1))
    assert found.fell_mm == pytest.approx(2.0)  # today's rain was read already
    unread_today = even(unread=[(date(2015, 1, 1), date(2015, 12, 31))])
    found = rain_year(unread_today, BARE, date(2015, 1, 1))
    assert found.fell_mm is None
    assert found.fan.middle[-1] == pytest.approx(730.0, rel=0.1)
