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
    usual_hours_by_now,
    whole_winter,
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

NO_MADE = np.zeros((0, 4))


def test_a_season_goes_on_by_the_rest_of_each_past_one():
    fan = season_fan(
        START, np.array([10.0, 20.0]), PAST, NO_MADE, START + timedelta(days=1)
    )
    assert fan.middle.tolist() == [10, 20, 22, 24]
    assert fan.low.tolist() == [10, 20, 21, 22]
    assert fan.high.tolist() == [10, 20, 24, 28]
    assert fan.firm_until == date(2014, 11, 2)
    assert (fan.members.past_years, fan.members.generated) == (3, 0)


def test_generated_seasons_join_past_ones():
    made = np.array([[9.0, 18.0, 27.0, 36.0]])
    fan = season_fan(START, np.array([10.0, 20.0]), PAST, made, START)
    assert fan.high.tolist() == [10, 20, 29, 38]
    assert (fan.members.past_years, fan.members.generated) == (3, 1)


def test_before_its_first_day_it_is_as_past_ones_were():
    fan = season_fan(START, np.zeros(0), PAST, NO_MADE, START - timedelta(days=3))
    assert fan.high.tolist() == [4, 8, 12, 16]
    assert fan.firm_until < fan.start


def test_without_past_seasons_it_ends_where_it_stands():
    none = PastSeasons((), np.zeros((0, 4)))
    fan = season_fan(START, np.array([10.0, 20.0]), none, NO_MADE, START)
    assert fan.end == date(2014, 11, 2)
    assert fan.members.count == 0
    assert none.usual_after(2) is None


def test_usual_is_the_middle_of_past_seasons():
    assert PAST.usual_after(3) == 6
    assert PAST.usual_after(0) == 0
    assert not PAST.is_fair


def test_past_winters_of_seattle_are_by_the_continuous_night():
    outlook = winter_outlook(WHOLE, SITE, NEW_YEAR)
    found = past_winters(outlook)
    assert found.starts == (date(2013, 11, 1), date(2012, 11, 1))
    assert found.sums.shape == (2, 151)
    # It is the upper of the two curves in these winters: seattle_winters.csv
    highs = [winter.chill.hours_high for winter in outlook.past]
    assert found.sums[:, -1] == pytest.approx(highs)
    # The reference counts from 1 October; October brings the rest.
    rows = {
        row["winter"]: float(row["hours_between"])
        for row in reference_rows("seattle_winters.csv")
        if row["night"] == "continuous"
    }
    shares = found.sums[:, -1] / [rows["2014"], rows["2013"]]
    assert ((shares > 0.8) & (shares < 1)).all()


def test_what_is_usual_by_now_lies_between_the_two_nights():
    outlook = winter_outlook(WHOLE, SITE, NEW_YEAR)
    low, high = (
        np.median(curve[1:, :61].sum(axis=1)) for curve in outlook.hours_by_day
    )
    assert low < usual_hours_by_now(outlook) < high
    first = winter_outlook(WHOLE, SITE, date(2012, 12, 1))
    assert usual_hours_by_now(first) is None


def test_a_winter_that_is_over_is_firm_to_its_end():
    outlook = winter_outlook(WHOLE, SOUTH, date(2015, 12, 1))
    fan = whole_winter(outlook)
    assert (fan.start, fan.end) == (date(2015, 5, 1), date(2015, 9, 30))
    assert fan.firm_until == fan.end
    assert fan.low[-1] == fan.high[-1] == pytest.approx(outlook.latest.chill.hours_high)


def test_what_was_observed_after_this_morning_is_not_known_yet():
    assert firm_until(WHOLE, NEW_YEAR) == date(2014, 12, 31)
    stopped = marked(date(2014, 12, 11), date(2014, 12, 31), "n")
    assert firm_until(stopped, NEW_YEAR) == date(2014, 12, 10)
    usual = replace(WHOLE, origin="n" * len(WHOLE))
    assert firm_until(usual, NEW_YEAR) == date(2011, 12, 31)


def test_days_outside_the_record_are_unknown():
    days = by_season(WHOLE.rain_mm, WHOLE, [date(2011, 12, 31), date(2015, 12, 31)], 2)
    assert np.isnan(days).tolist() == [[True, False], [False, True]]
    assert days[0, 1] == WHOLE.rain_mm[0]
