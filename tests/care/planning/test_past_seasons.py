"""Running sums of a season and of past ones: which count, and how a season goes on."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.planning.past_seasons import (
    PastSeasons,
    by_season,
    firm_until,
    past_winters,
    season_fan,
    winter_fan,
)
from care.planning.winter import winter_outlook
from tests.care.planning.test_winter import NEW_YEAR, SITE, SOUTH, WHOLE, marked
from tests.care.science.reference import reference_rows

START = date(2014, 11, 1)
#: Three seasons of four days: 1, 2 and 4 a day.
PAST = PastSeasons(
    (date(2013, 11, 1), date(2012, 11, 1), date(2011, 11, 1)),
    np.array([[1.0, 2, 3, 4], [2, 4, 6, 8], [4, 8, 12, 16]]),
)


def test_a_season_goes_on_by_the_rest_of_each_past_one():
    fan = season_fan(START, np.array([10.0, 20.0]), 4, PAST, START + timedelta(days=1))
    assert fan.middle.tolist() == [10, 20, 22, 24]
    assert fan.low.tolist() == [10, 20, 21, 22]
    assert fan.high.tolist() == [10, 20, 24, 28]
    assert fan.firm_until == date(2014, 11, 2)
    assert (fan.members.past_years, fan.members.generated) == (3, 0)


def test_before_its_first_day_it_is_as_past_ones_were():
    fan = season_fan(START, np.zeros(0), 4, PAST, START - timedelta(days=3))
    assert fan.high.tolist() == [4, 8, 12, 16]
    assert fan.firm_until < fan.start


def test_without_past_seasons_it_ends_where_it_stands():
    none = PastSeasons((), np.zeros((0, 4)))
    fan = season_fan(START, np.array([10.0, 20.0]), 4, none, START)
    assert fan.end == date(2014, 11, 2)
    assert fan.members.count == 0
    assert none.usual_after(2) is None


def test_usual_is_the_middle_of_past_seasons():
    assert PAST.usual_after(3) == 6
    assert PAST.usual_after(0) == 0
    assert not PAST.is_fair


def test_past_winters_of_seattle_lie_between_their_two_reckonings():
    outlook = winter_outlook(WHOLE, SITE, NEW_YEAR)
    found = past_winters(outlook)
    assert found.starts == (date(2013, 11, 1), date(2012, 11, 1))
    assert found.sums.shape == (2, 151)
    for total, winter in zip(found.sums[:, -1], outlook.past, strict=True):
        assert winter.chill.hours_low <= total <= winter.chill.hours_high
    # From 1 October the reference counts 1742 to 1800 and 2059 to 2111 hours; October
    # brings the rest: tests/care/science/data/seattle_winters.csv
    rows = {row["winter"]: row for row in reference_rows("seattle_winters.csv")}
    for total, winter in zip(found.sums[:, -1], ("2014", "2013"), strict=True):
        assert 0.8 < total / float(rows[winter]["hours_between"]) < 1


def test_this_winter_is_firm_through_yesterday_and_likely_beyond():
    outlook = winter_outlook(WHOLE, SITE, NEW_YEAR)
    fan = winter_fan(outlook, WHOLE, NEW_YEAR)
    assert fan.firm_until == date(2014, 12, 31)
    assert (fan.start, fan.end) == (date(2014, 11, 1), date(2015, 3, 31))
    so_far = fan.middle[60]
    chill = outlook.latest.chill
    assert (chill.hours_low + chill.hours_high) / 2 == pytest.approx(so_far)
    assert fan.low[60] == fan.high[60]
    assert fan.low[-1] < fan.high[-1]


def test_a_record_that_stopped_is_firm_until_it_did():
    stopped = marked(date(2014, 12, 11), date(2014, 12, 31), "n")
    fan = winter_fan(winter_outlook(stopped, SITE, NEW_YEAR), stopped, NEW_YEAR)
    assert fan.firm_until == date(2014, 12, 10)
    # What was observed after this morning is not known yet.
    assert firm_until(WHOLE, NEW_YEAR) == date(2014, 12, 31)
    usual = replace(WHOLE, origin="n" * len(WHOLE))
    assert firm_until(usual, NEW_YEAR) == date(2011, 12, 31)


def test_the_southern_winter_runs_from_may_to_september():
    fan = winter_fan(winter_outlook(WHOLE, SOUTH, date(2015, 7, 1)), WHOLE, NEW_YEAR)
    assert (fan.start, fan.end) == (date(2015, 5, 1), date(2015, 9, 30))


def test_days_outside_the_record_are_unknown():
    days = by_season(WHOLE.rain_mm, WHOLE, [date(2011, 12, 31), date(2015, 12, 31)], 2)
    assert np.isnan(days).tolist() == [[True, False], [False, True]]
    assert days[0, 1] == WHOLE.rain_mm[0]
