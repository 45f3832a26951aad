"""Needs for chill: met when, expected when, and in how many winters."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
from hypothesis import given, settings, strategies as st

from care.facts import SiteFacts, WeatherSeries
from care.planning.chill_needs import need_outlook
from care.planning.winter import winter_outlook
from care.science.chill import winter_chill
from care.science.hourly import NightCurve
from tests.care.science.reference import SEATTLE_LATITUDE_DEG, SeattleRecord

SEATTLE = SeattleRecord()
RECORD = WeatherSeries(
    SEATTLE.start,
    SEATTLE.tmin_c,
    SEATTLE.tmax_c,
    SEATTLE.rain_mm,
    "o" * len(SEATTLE.tmin_c),
)
SITE = SiteFacts(SEATTLE_LATITUDE_DEG, 120.0, "sandy_loam")
NEW_YEAR = date(2015, 1, 1)
OUTLOOK = winter_outlook(RECORD, SITE, NEW_YEAR)


def hours_between(first, last):
    """Chill hours of 0 to 7.2 degC by the two night curves, days included."""
    sums = winter_chill(
        SEATTLE.tmin_c,
        SEATTLE.tmax_c,
        SEATTLE_LATITUDE_DEG,
        SEATTLE.day_numbers,
        first=SEATTLE.at(first),
        last=SEATTLE.at(last),
    )
    return [float(sums[night].hours_between) for night in NightCurve]


def test_a_need_is_met_on_the_day_that_completes_it():
    found = need_outlook(OUTLOOK, 400.0)
    start = date(2014, 11, 1)
    quick, slow = found.met_first, found.met_surely
    assert start < quick <= slow < NEW_YEAR
    assert max(hours_between(start, quick)) >= 400
    assert max(hours_between(start, quick - timedelta(days=1))) < 400
    assert min(hours_between(start, slow)) >= 400
    assert min(hours_between(start, slow - timedelta(days=1))) < 400


def test_a_need_still_open_was_met_in_past_winters_or_never():
    found = need_outlook(OUTLOOK, 1000.0)
    assert (found.met_first, found.met_surely) == (None, None)
    assert (found.winters, found.met_at_least, found.met_at_most) == (2, 2, 2)
    never = need_outlook(OUTLOOK, 3000.0)
    assert (never.met_at_least, never.met_at_most) == (0, 0)


def test_where_the_night_curves_differ_the_count_is_a_range():
    # Winter sums, November to March, of both curves and the two past winters
    sums = sorted(
        hours_between(date(year - 1, 11, 1), date(year, 3, 31)) for year in (2013, 2014)
    )
    between = sum(sums[0]) / 2
    found = need_outlook(OUTLOOK, between)
    assert (found.met_at_least, found.met_at_most) == (1, 2)


def test_a_short_record_has_no_past_winter_to_go_by():
    short = replace(RECORD, origin="n" * len(RECORD))
    found = need_outlook(winter_outlook(short, SITE, NEW_YEAR), 1500.0)
    assert (found.winters, found.met_surely) == (0, None)


def test_southern_winters_count_from_may():
    south = replace(SITE, latitude_deg=-SEATTLE_LATITUDE_DEG)
    shifted = replace(RECORD, start=RECORD.start + timedelta(days=181))
    found = need_outlook(winter_outlook(shifted, south, date(2015, 7, 1)), 400.0)
    north = need_outlook(OUTLOOK, 400.0)
    days = (found.met_surely - north.met_surely).days
    # The same winter; the sun of the other half year differs a little
    assert abs(days - 181) <= 2


@settings(max_examples=30)
@given(st.floats(50, 2500), st.floats(1, 500))
def test_a_greater_need_is_met_no_sooner_and_no_more_often(need, more):
    less, greater = need_outlook(OUTLOOK, need), need_outlook(OUTLOOK, need + more)
    assert greater.met_at_most <= less.met_at_most
    assert greater.met_at_least <= less.met_at_least
    for name in ("met_first", "met_surely"):
        if getattr(greater, name) is not None:
            assert getattr(less, name) <= getattr(greater, name)


def test_a_whole_winter_that_is_over_has_only_what_it_met():
    july = winter_outlook(RECORD, SITE, date(2014, 7, 14))
    found = need_outlook(july, 3000.0)
    assert (found.met_surely, found.winters) == (None, 1)
    assert np.isfinite(july.hours_by_day).all()
