"""Courses of temperature, and the chill, frost and heat they tell of ahead of time.

What came is the record itself: Seattle, 2012-2015. Its frost dates, hot days and chill
were reckoned from the same days by an independent program.
"""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.planning.chill_ahead import chill_ahead, winter_ahead
from care.planning.courses import REACH_DAYS, imagine_courses
from care.planning.frost_ahead import (
    TOO_MILD_C,
    frosts_ahead,
    halves_ahead,
)
from care.planning.heat_ahead import heat_ahead
from care.planning.winter import winter_outlook
from tests.care.planning.water_cases import SITE, normals, record, weather

DECEMBER, FEBRUARY = date(2014, 12, 1), date(2015, 2, 20)
SOUTH = replace(SITE, latitude_deg=-47.45)


def courses(series, today, first, until):
    return imagine_courses(SITE, series, today, first=first, until=until)


def test_courses_share_what_is_known_and_part_after_it():
    first, until = date(2014, 11, 1), date(2015, 6, 1)
    found = courses(weather(DECEMBER), DECEMBER, first, until)
    assert found.until == until
    assert found.tmin_c.shape == (30, (until - first).days + 1)
    assert found.firm_until == DECEMBER + timedelta(days=4)
    shared = found.place(found.firm_until)
    assert (found.tmin_c[:, : shared + 1] == found.tmin_c[0, : shared + 1]).all()
    assert len(np.unique(found.tmin_c[:, shared + 1])) > 20
    assert (found.tmax_c >= found.tmin_c).all()
    real = record()[0][(first - date(2012, 1, 1)).days :]
    assert np.array_equal(found.tmin_c[0, : shared + 1], real[: shared + 1])


def test_two_past_years_come_before_made_up_ones_and_reach_most_of_a_year():
    until = DECEMBER + timedelta(days=REACH_DAYS)
    found = courses(weather(DECEMBER), DECEMBER, DECEMBER, until)
    assert (found.members.past_years, found.members.generated) == (2, 20)
    year = date(2013, 12, 1)
    place = found.place(DECEMBER + timedelta(days=40))
    real = record()[0][(year - date(2012, 1, 1)).days + 40]
    assert real in found.tmin_c[:10, place]


def test_days_gone_that_nobody_read_are_made_up_too():
    first = DECEMBER - timedelta(days=30)
    found = courses(normals(DECEMBER), DECEMBER, first, DECEMBER)
    assert found.members.generated == 30
    assert len(np.unique(found.tmin_c[:, 5])) == 30
    gap = weather(DECEMBER)
    low = gap.tmin_c.copy()
    low[gap.index(DECEMBER) - 3] = np.nan
    patched = courses(replace(gap, tmin_c=low), DECEMBER, first, DECEMBER)
    assert np.isfinite(patched.tmin_c).all()
    assert len(np.unique(patched.tmin_c[:, 27])) > 20


def test_where_all_days_are_known_there_is_one_course():
    found = courses(weather(DECEMBER), DECEMBER, date(2014, 11, 1), DECEMBER)
    assert len(found.tmin_c) == found.members.count == 1
    assert found.members.past_years == found.members.generated == 0


def test_a_place_without_a_climate_has_no_courses():
    series = weather(DECEMBER)
    unknown = replace(series, origin="f" * len(series))
    assert courses(unknown, DECEMBER, DECEMBER, DECEMBER) is None
    assert chill_ahead(unknown, SITE, DECEMBER) is None
    assert frosts_ahead(unknown, SITE, DECEMBER) == ()
    assert heat_ahead(unknown, SITE, DECEMBER) is None


def test_a_winter_told_on_its_first_of_december_came_about_as_told():
    told = chill_ahead(weather(DECEMBER), SITE, DECEMBER, (900.0, 1200.0))
    after = date(2015, 4, 1)
    came = winter_outlook(weather(after), SITE, after).latest.chill
    # Winter 2014/15 was the mildest of the record: 200 hours below the others.
    assert told.portions.low - 3 < came.portions_high < told.portions.high
    assert told.hours.low - 400 < came.hours_high < told.hours.high
    assert told.enough[900.0].low < told.enough[1200.0].low
    assert not told.hours.is_firm
    assert told.hours.until == date(2015, 3, 31)


def test_chill_that_has_come_is_firm_and_its_fan_closed():
    told = chill_ahead(weather(FEBRUARY), SITE, FEBRUARY, (900.0,))
    enough = told.enough[900.0]
    assert enough.is_firm
    assert enough.low == enough.high < FEBRUARY
    fan = told.hours_fan
    firm = (fan.firm_until - fan.start).days
    # The evening of the last one cools towards the night that nobody knows.
    assert (fan.low == fan.high)[:firm].all()
    assert (fan.low < fan.high)[firm + 3 :].all()
    assert fan.end == told.hours.until
    by_now = winter_outlook(weather(FEBRUARY), SITE, FEBRUARY).latest.chill
    yesterday = (FEBRUARY - fan.start).days - 1
    # The continuous night is the one with more hours.
    assert fan.middle[yesterday] == pytest.approx(by_now.hours_high)
    assert told.portions_fan.high[-1] == told.portions.high


def test_a_place_without_a_record_is_told_the_chill_of_its_winters():
    # Winters of the record: 1742 to 2059 hours, 1259 in the mildest, 112 to 131
    # portions from October; from November about a tenth less. Made-up ones lie as far
    # apart and have some more hours, for want of mild spells as long as real ones.
    told = chill_ahead(normals(DECEMBER), SITE, DECEMBER)
    assert 1200 < told.hours.low < 1850 < told.hours.high < 2450
    assert 100 < told.portions.low < told.portions.high < 120


def test_between_two_winters_the_next_is_told_once_it_lies_within_reach():
    assert winter_ahead(date(2015, 3, 31), southern=False).start == date(2014, 11, 1)
    assert winter_ahead(date(2015, 4, 15), southern=False) is None
    assert winter_ahead(date(2015, 5, 10), southern=False).start == date(2015, 11, 1)
    assert winter_ahead(date(2015, 6, 1), southern=True).start == date(2015, 5, 1)
    assert chill_ahead(normals(date(2015, 4, 15)), SITE, date(2015, 4, 15)) is None


def test_frosts_of_2015_came_within_what_february_told():
    # Last at or below 0 degC 4 March 2015, first 23 November (Seattle's record).
    (told,) = frosts_ahead(weather(FEBRUARY), SITE, FEBRUARY)
    assert told.last_spring.low <= date(2015, 3, 4) <= told.last_spring.high
    assert told.first_autumn.low <= date(2015, 11, 23) <= told.first_autumn.high
    assert told.last_spring.members.is_generated
    assert 1.6 < TOO_MILD_C < 1.8  # Seattle's annual minima: -3.4 for -5.05


def test_a_frost_that_has_come_is_firm():
    # First at or below 0 degC in 2014: 12 November (Seattle's record).
    mild, hard = frosts_ahead(weather(DECEMBER), SITE, DECEMBER, (0.0, -9.0))
    assert mild.first_autumn.is_firm
    assert mild.first_autumn.middle == date(2014, 11, 12)
    assert hard.first_autumn.high is None
    assert hard.first_autumn.share < 0.1
    assert not mild.last_spring.is_firm
    assert mild.last_spring.until == date(2015, 7, 31)


def test_a_tree_that_bears_more_has_a_later_first_and_an_earlier_last_frost():
    tender, hardy = frosts_ahead(normals(FEBRUARY), SITE, FEBRUARY, (2.2, -2.2))
    assert hardy.last_spring.middle < tender.last_spring.middle
    assert hardy.first_autumn.middle > tender.first_autumn.middle


def test_what_only_forecasts_know_tells_of_no_frost():
    known = normals(DECEMBER)
    unknown = replace(known, origin="f" * len(known))
    assert frosts_ahead(unknown, SITE, DECEMBER) == ()


def test_halves_of_the_year_turn_with_the_hemisphere():
    spring, autumn = halves_ahead(date(2015, 8, 10), southern=False)
    assert (spring.start, spring.end) == (date(2016, 1, 1), date(2016, 7, 31))
    assert (autumn.start, autumn.end) == (date(2015, 8, 1), date(2015, 12, 31))
    spring, autumn = halves_ahead(date(2015, 8, 10), southern=True)
    assert (spring.start, spring.end) == (date(2015, 7, 1), date(2016, 1, 31))
    assert (autumn.start, autumn.end) == (date(2016, 2, 1), date(2016, 6, 30))
    (august,) = frosts_ahead(normals(date(2015, 8, 10)), SITE, date(2015, 8, 10))
    assert august.last_spring is None


def test_hot_days_to_come_and_the_years_warmth():
    told = heat_ahead(weather(FEBRUARY), SITE, FEBRUARY)
    # Days above 30 degC: 8, 12 and 14 in 2012 to 2014, 19 in 2015.
    assert 0 <= told.hot_days.low <= 8 <= told.hot_days.middle <= 14
    assert told.hot_days.until == date(2015, 12, 31)
    fan = told.degree_days_fan
    assert fan.start == date(2015, 1, 1)
    # By a single sine above 10 degC: 1202, 1436 and 1560 in 2012 to 2014, and 1616 in
    # the year that came.
    assert 1150 < fan.low[-1] < 1436
    assert 1616 < fan.high[-1] < 1750


def test_a_southern_year_of_warmth_begins_in_july():
    told = heat_ahead(normals(FEBRUARY), SOUTH, FEBRUARY)
    assert told.degree_days_fan.start == date(2014, 7, 1)
    assert told.hot_days.until == date(2015, 6, 30)
    told = heat_ahead(normals(DECEMBER), SITE, DECEMBER)
    assert told.degree_days_fan.start == date(2014, 1, 1)
