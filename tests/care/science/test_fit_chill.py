"""Chill against need: by hand on the Seattle record, and what doubt may not do."""

from datetime import date, timedelta
from math import acos, cos, degrees, exp, log, pi, radians, sin

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from care.facts.fit import Verdict
from care.science.fit_chill import chill_factors, chill_need, times_met
from care.science.fit_years import YearsOfDays, daily_worths
from tests.care.science.fit_cases import cultivar, kind, years
from tests.care.science.reference import SEATTLE_LATITUDE_DEG, SeattleRecord

SEATTLE = SeattleRecord()
WINTERS = (2013, 2014, 2015)
HOURS = st.lists(st.floats(0, 2000), min_size=3, max_size=3)


def day_length_h(day):
    """Spencer (1971) and Almorox and others (2005), as printed, in plain arithmetic."""
    angle = 2 * pi * (day.timetuple().tm_yday - 1) / 365
    tilt = 0.006918 - 0.399912 * cos(angle) + 0.070257 * sin(angle)
    tilt += -0.006758 * cos(2 * angle) + 0.000907 * sin(2 * angle)
    tilt += -0.002697 * cos(3 * angle) + 0.00148 * sin(3 * angle)
    here = radians(SEATTLE_LATITUDE_DEG)
    edge = (sin(radians(-0.833)) - sin(here) * sin(tilt)) / (cos(here) * cos(tilt))
    return 2 * degrees(acos(edge)) / 15


def hours_by_hand(day, *, is_continuous):
    """One day's 24 temperatures by Linvill (1990), with neither of our modules."""
    low, high = (
        lambda d: SEATTLE.tmin_c[SEATTLE.at(d)],
        lambda d: SEATTLE.tmax_c[SEATTLE.at(d)],
    )
    before, after = day - timedelta(days=1), day + timedelta(days=1)

    def sunset_c(d):
        length = day_length_h(d)
        return low(d) + (high(d) - low(d)) * sin(pi * length / (length + 4))

    def cooled(d, until, since, night, literal_night):
        start, end = sunset_c(d), low(until)
        if is_continuous:
            share = log(since + 1) / log(night + 1)
        else:
            share = log(max(since, 1)) / log(literal_night)
        return start - (start - end) * min(share, 1.0)

    length = day_length_h(day)
    rise, fall = 12 - length / 2, 12 + length / 2
    found = []
    for hour in range(24):
        if hour <= rise:
            set_before = 12 + day_length_h(before) / 2
            since = hour + 24 - set_before
            night = rise + 24 - set_before
            found.append(cooled(before, day, since, night, 24 - day_length_h(before)))
        elif hour <= fall:
            angle = pi * (hour - rise) / (length + 4)
            found.append(low(day) + (high(day) - low(day)) * sin(angle))
        else:
            rise_after = 12 - day_length_h(after) / 2
            night = 24 - fall + rise_after
            found.append(cooled(day, after, hour - fall, night, 24 - length))
    return found


def winter_by_hand(season, *, is_continuous):
    """Hours of 0 to 7.2 degC and portions of one winter, counted one by one."""
    day, hours, portions, product, fixed = date(season - 1, 11, 1), 0, 0.0, 0.0, 0.0
    while day <= date(season, 3, 31):
        for degree in hours_by_hand(day, is_continuous=is_continuous):
            hours += -1e-9 <= degree <= 7.2 + 1e-9
            kelvin = degree + 273
            rate = exp(1.6 * 277 * (kelvin - 277) / kelvin)
            share = rate / (1 + rate)
            steady = 1.395e5 / 2.567e18 * exp((12888.8 - 4153.5) / kelvin)
            left = product if product < 1 else product * (1 - fixed)
            product = steady - (steady - left) * exp(-2.567e18 * exp(-12888.8 / kelvin))
            portions += share * product if product >= 1 else 0.0
            fixed = share
        day += timedelta(days=1)
    return hours, portions


@pytest.fixture(scope="module")
def by_hand():
    """(curves, winters, 2): hours and portions."""
    return np.array(
        [
            [winter_by_hand(season, is_continuous=curve) for season in WINTERS]
            for curve in (False, True)
        ]
    )


@pytest.fixture(scope="module")
def seattle():
    days = [
        SEATTLE.between(date(season - 1, 10, 31), date(season, 11, 1))
        for season in WINTERS
    ]
    lows, highs = (
        np.array([values[each][:367] for each in days])
        for values in (SEATTLE.tmin_c, SEATTLE.tmax_c)
    )
    starts = tuple(date(season - 1, 11, 1) for season in WINTERS)
    worths = daily_worths(YearsOfDays(lows, highs, starts), SEATTLE_LATITUDE_DEG)
    return years(
        hours=worths.chill_hours[:, :, :151].sum(axis=2),
        portions=worths.portions.sum(axis=2),
        minima=(-5.0, -7.1, -6.0),
    )


def test_winters_of_seattle_as_counted_by_hand(seattle, by_hand):
    assert seattle.chill_hours == pytest.approx(by_hand[:, :, 0], abs=1)
    assert seattle.portions == pytest.approx(by_hand[:, :, 1], abs=1e-6)


@pytest.mark.parametrize(
    ("asks", "share"),
    # Contender's 1,050 h are met in all three winters; the third, mild one, had fewer
    # than 1,300 by the slower night curve, and none of them 2,200.
    [(1050.0, 1.0), (1300.0, 2 / 3), (2200.0, 0.0)],
)
def test_share_of_winters_for_three_cultivars(seattle, by_hand, asks, share):
    surely = sum(
        all(by_hand[curve, winter, 0] >= asks for curve in (0, 1))
        for winter in range(3)
    )
    assert surely / 3 == pytest.approx(share)
    own = cultivar(chill_hours_min=asks, chill_hours_max=asks)
    factor = chill_factors([chill_need(kind(), own)], seattle)[0]
    assert factor.number("met_surely") == surely
    assert factor.number("winters") == 3
    wanted = {1.0: Verdict.GOOD, 2 / 3: Verdict.FAIR, 0.0: Verdict.NO}
    assert factor.verdict is wanted[share]


def test_portions_count_where_a_cultivar_has_them(seattle, by_hand):
    # Golden Delicious, 50 portions (UC Cooperative Extension, K. Pope)
    own = cultivar(chill_portions=50.0, chill_hours_min=5000.0)
    factor = chill_factors([chill_need(kind(), own)], seattle)[0]
    assert (by_hand[:, :, 1] >= 50).all()
    assert (factor.verdict, factor.number("unit")) == (Verdict.GOOD, "portions")
    assert factor.sources[-1] == "fishman_1987"


def test_curves_that_disagree_make_a_range():
    found = times_met(np.array([[90.0, 110.0], [110.0, 120.0]]), [100.0, 130.0])
    assert [(each.surely, each.perhaps) for each in found] == [(1, 2), (0, 0)]


@given(hours=HOURS, more=st.floats(0, 500), asks=st.floats(0, 1500))
def test_more_chill_never_worsens_the_verdict(hours, more, asks):
    need = chill_need(kind(chill_hours_min=asks, chill_hours_max=asks + 200), None)
    order = [Verdict.GOOD, Verdict.FAIR, Verdict.POOR, Verdict.NO]
    before, after = (
        chill_factors([need], years(hours=[hour + extra for hour in hours]))[0].verdict
        for extra in (0.0, more)
    )
    assert order.index(after) <= order.index(before)


def test_bounds_of_nine_and_five_in_ten():
    need = chill_need(kind(chill_hours_max=400.0), None)
    for met, verdict in ((9, "good"), (8, "fair"), (5, "fair"), (4, "no")):
        hours = [500.0] * met + [100.0] * (10 - met)
        found = chill_factors([need], years(hours=hours, minima=[-5.0] * 10))[0]
        assert found.verdict == verdict


def test_a_species_asks_for_what_its_least_cultivar_asks():
    low = cultivar(chill_hours_min=100.0, unverified=frozenset({"chill_hours_min"}))
    need = chill_need(kind(), None, [low, cultivar("Late", chill_hours_min=900.0)])
    assert (need.least, need.most, need.is_unverified) == (100.0, 800.0, True)
    found = chill_factors([need], years(hours=[500.0] * 3))[0]
    assert (found.verdict, found.code) == (Verdict.FAIR, "chill_choose_low")
    assert found.fixes == ("low_chill_cultivar",)


def test_a_cultivar_between_its_two_figures_is_fair():
    own = cultivar(chill_hours_min=300.0, chill_hours_max=600.0)
    found = chill_factors([chill_need(kind(), own)], years(hours=[500.0] * 3))[0]
    assert (found.verdict, found.code) == (Verdict.FAIR, "chill_may_ask_more")


@pytest.mark.parametrize(
    ("hours", "verdict", "code"),
    # A figure from memory excludes nothing; what every cultivar asks, as read, may
    [(500.0, "poor", "chill_short"), (300.0, "no", "chill_short_all")],
)
def test_doubt_excludes_nothing(hours, verdict, code):
    own = cultivar(chill_hours_min=900.0, unverified=frozenset({"chill_hours_min"}))
    found = chill_factors([chill_need(kind(), own)], years(hours=[hours] * 3))[0]
    assert (found.verdict, found.code) == (verdict, code)
    assert found.is_unverified is (code == "chill_short")


def test_a_floor_from_memory_or_above_the_need_excludes_nothing():
    mark = frozenset({"chill_hours_min"})
    doubted = cultivar(chill_hours_min=900.0, unverified=mark)
    lower = cultivar(chill_hours_min=350.0, unverified=mark)
    few = years(hours=[10.0] * 3)
    needs = [chill_need(kind(unverified=mark), doubted), chill_need(kind(), lower)]
    assert [each.floor for each in needs] == [None, None]
    assert {each.verdict for each in chill_factors(needs, few)} == {Verdict.POOR}


def test_what_keeps_its_leaves_does_without():
    olive = kind("olive", leaf="evergreen", chill_hours_min=200.0)
    few, many = (
        chill_factors([chill_need(olive, None)], years(hours=[hours] * 3))[0]
        for hours in (50.0, 900.0)
    )
    assert (few.verdict, few.code, few.fixes) == (Verdict.FAIR, "chill_soft", ())
    assert (many.verdict, many.code) == (Verdict.GOOD, "chill_met")


def test_none_needed_and_none_known():
    none = kind("mango", leaf="evergreen", chill_hours_min=0.0, chill_hours_max=0.0)
    silent = kind(chill_hours_min=None, chill_hours_max=None)
    some = kind(chill_hours_max=None)
    needs = [chill_need(each, None) for each in (none, silent, some)]
    for weather, codes in (
        (years(), ["chill_none_needed", "chill_no_figure", "chill_met"]),
        (None, ["chill_none_needed", "chill_no_figure", "chill_no_weather"]),
    ):
        found = chill_factors(needs, weather)
        assert [each.code for each in found] == codes
    assert needs[2].most == 400.0
    zero = chill_need(kind(chill_hours_min=0.0, chill_hours_max=300.0), None)
    assert chill_factors([zero], years())[0].margin == 1.0


@settings(max_examples=20)
@given(hours=HOURS)
def test_no_winter_is_met_more_surely_than_perhaps(hours):
    apart = np.array([hours, [hour + 50 for hour in hours]])
    met = times_met(apart, [500.0, 1500.0])
    assert all(each.surely <= each.perhaps for each in met)


@pytest.mark.parametrize(
    ("least", "verdict", "code"),
    [(200.0, "poor", "chill_few_hours"), (201.0, "no", "chill_short")],
)
def test_hours_of_a_low_need_exclude_nothing(least, verdict, code):
    """Common practice, no source: hours tell little where winters are mild."""
    mild = years(hours=[10.0, 20.0, 30.0])
    need = chill_need(kind(chill_hours_min=least, chill_hours_max=least), None)
    found = chill_factors([need], mild)[0]
    assert (found.verdict, found.code) == (Verdict(verdict), code)
