"""Frost at bloom: counted by hand, by model and by months, north and south."""

from dataclasses import replace
from datetime import date, timedelta
from functools import cache

import numpy as np
import pytest

from care.facts import SiteFacts, Span, WeatherSeries
from care.facts.fit import Verdict
from care.science.fit_bloom import Springs, bloom_factors
from care.science.fit_years import YEAR_DAYS, YearsOfDays, daily_worths
from care.science.frost_dates import day_of_later_frost
from care.science.phenology import SpringNeed, daily_warmth, stage_reached
from tests.care.science.fit_cases import START, cultivar, kind, place_of, years
from tests.care.science.reference import SEATTLE_LATITUDE_DEG, SeattleRecord

SEATTLE = SeattleRecord()
SITE = SiteFacts(SEATTLE_LATITUDE_DEG, 120.0, "sandy_loam")
SEASONS = (2013, 2014, 2015)
# Days of the year of ten last spring frosts, as in the tests of frost dates.
LAST_FROSTS = (95, 101, 88, 110, 99, 104, 92, 97, 115, 90)


def factor(facts, known, own=None, site=SITE):
    return bloom_factors([(facts, own)], Springs.of(known, site))[0]


def blooming(months=(3, 3), **values):
    return kind("medlar", bloom=Span(*months), **values)


@cache
def seattle():
    starts = tuple(date(season - 1, 11, 1) for season in SEASONS)
    days = [slice(SEATTLE.at(start) - 1, SEATTLE.at(start) + 366) for start in starts]
    lows, highs = (
        np.array(
            [np.pad(v[d], (0, 367 - len(v[d])), constant_values=np.nan) for d in days]
        )
        for v in (SEATTLE.tmin_c, SEATTLE.tmax_c)
    )
    worths = daily_worths(YearsOfDays(lows, highs, starts), SEATTLE_LATITUDE_DEG)
    return years(
        hours=worths.chill_hours[:, :, :151].sum(axis=2),
        tmin_c=lows[:, 1:366],
        chill_by_day=worths.chill_hours[1],
        warmth_by_day=worths.warmth,
        starts=starts,
    )


def test_share_of_springs_counted_by_hand():
    # Bloom by the months on 16 March: the nights of 9 to 23 March
    known = seattle()
    hurt = 0
    for season in SEASONS:
        nights = [
            SEATTLE.tmin_c[SEATTLE.at(date(season, 3, 9) + timedelta(days=n))]
            for n in range(15)
        ]
        hurt += min(nights) <= 1.7
    assert hurt == 2
    found = factor(blooming(bloom_damage_temp_c=1.7), known)
    assert (found.number("month"), found.number("day")) == (3, 16)
    assert found.number("killing") == hurt
    assert found.number("share") == pytest.approx(hurt / 3)
    assert found.verdict is Verdict.POOR


def test_a_date_past_which_frost_comes_one_year_in_ten():
    """NOAA's P10: flowers that open after it meet a frost one spring in ten."""
    p10 = day_of_later_frost(np.array(LAST_FROSTS, dtype=float), 10, 0.1)
    assert p10 == pytest.approx(110.21, abs=0.01)
    nights = np.full((10, YEAR_DAYS), 5.0)
    starts = tuple(date(2012 + n, 11, 1) for n in range(10))
    for row, day in enumerate(LAST_FROSTS):
        frost = date(starts[row].year + 1, 1, 1) + timedelta(days=day - 1)
        nights[row, (frost - starts[row]).days] = -3.0
    known = years(minima=[-5.0] * 10, hours=[900.0] * 10, tmin_c=nights, starts=starts)
    springs = Springs.of(known, SITE)
    medlar = blooming()
    bloom = springs.bloom(medlar, None)
    opened = [
        date(start.year + 1, 1, 1) + timedelta(days=111 + 7 - 1) for start in starts
    ]
    after_p10 = replace(
        bloom,
        places=np.array(
            [
                float((day - start).days)
                for day, start in zip(opened, starts, strict=True)
            ]
        ),
    )
    assert (springs.coldest_at(after_p10) <= -2.2).mean() == 0.1


@pytest.mark.parametrize("season", SEASONS)
def test_bloom_is_modelled_as_for_trees_that_stand(season):
    record = WeatherSeries(
        SEATTLE.start,
        SEATTLE.tmin_c,
        SEATTLE.tmax_c,
        SEATTLE.rain_mm,
        "o" * len(SEATTLE.tmin_c),
    )
    warmth = daily_warmth(record, SEATTLE_LATITUDE_DEG)
    stands = stage_reached(warmth, season, SpringNeed(800.0, 5520.0), southern=False)
    places = Springs.of(seattle(), SITE).modelled(800.0, 5520.0)
    start = date(season - 1, 11, 1)
    assert start + timedelta(days=int(places[season - 2013])) == stands


def peach(**values):
    return kind(
        "peach",
        **{"bloom": Span(2, 4), "chill_hours_min": 100.0, "chill_hours_max": 1000.0}
        | values,
    )


def test_little_chill_needed_means_early_bloom():
    early, late = (
        factor(peach(), seattle(), cultivar("X", "peach", chill_hours_min=hours))
        for hours in (100.0, 1100.0)
    )
    assert {early.code, late.code} == {"bloom_modelled"}
    assert early.number("month") + early.number("day") / 31 < (
        late.number("month") + late.number("day") / 31
    )
    # A cultivar without a figure blooms as its species does
    unsaid = factor(peach(), seattle(), cultivar("Y", "peach"))
    assert unsaid.number("day") == factor(peach(), seattle()).number("day")


def test_a_bloom_far_from_the_months_is_not_believed():
    for facts in (kind("peach", bloom=Span(7, 7)), kind("peach", bloom=None)):
        assert factor(facts, seattle()).code != "bloom_modelled"


def test_needs_that_are_not_met_bloom_by_the_months():
    cold = years()  # too little warmth a day to reach any bloom
    assert factor(peach(), replace_warmth(cold, 1.0)).code == "bloom_by_months"
    scarce = factor(peach(chill_hours_max=100.0), years(hours=[20.0] * 3))
    assert scarce.code == "bloom_by_months"


def replace_warmth(known, worth):
    known.warmth_by_day[:] = worth
    return known


def test_winters_that_miss_the_chill_have_no_modelled_bloom():
    known = years(hours=[500.0] * 3)
    known.chill_by_day[0] = 0.0
    known.warmth_by_day[1, 20:30] = np.nan
    places = Springs.of(known, SITE).modelled(300.0, 5000.0)
    assert np.isnan(places[:2]).all()
    assert not np.isnan(places[2])


def test_unread_nights_leave_a_spring_out():
    known = years(minima=[-5.0] * 3)
    here = place_of(date(2013, 3, 16))
    known.tmin_c[0, here - 1 : here + 1] = np.nan
    known.tmin_c[1, here] = np.nan
    assert factor(blooming(), known).number("springs") == 2
    known.tmin_c[:] = np.nan
    assert factor(blooming(), known).code == "bloom_no_one_date"


@pytest.mark.parametrize(
    ("killing", "verdict"), [(0, "good"), (2, "good"), (3, "fair"), (5, "fair")]
)
def test_share_of_springs_with_a_killing_night(killing, verdict):
    known = years(minima=[-5.0] * 10, hours=[900.0] * 10)
    for row in range(killing):
        known.tmin_c[row, place_of(date(2013, 3, 16))] = -2.2
    found = factor(blooming(bloom_damage_temp_c=-20 / 9), known)
    assert found.verdict == verdict
    assert bool(found.fixes) is (verdict != "good")


def test_southern_springs_and_winter_bloom():
    south = replace(SITE, latitude_deg=-SEATTLE_LATITUDE_DEG)
    starts = tuple(date(year, 5, 1) for year in (2013, 2014, 2015))
    found = factor(blooming(), years(starts=starts), site=south)
    assert (found.number("month"), found.number("day")) == (9, 15)
    # Loquats bloom from October to February: in the row's own winter
    winter = factor(kind("loquat", leaf="evergreen", bloom=Span(10, 2)), years())
    assert (winter.number("month"), winter.number("springs")) == (12, 3)


def test_what_cannot_be_told():
    assert factor(blooming(bloom_damage_temp_c=None), years()).code == "bloom_no_figure"
    all_year = factor(kind("banana", bloom=Span(1, 12)), years())
    assert all_year.code == "bloom_no_one_date"
    assert bloom_factors([(kind(), None)], None)[0].code == "bloom_no_weather"
    assert START.month == 11
