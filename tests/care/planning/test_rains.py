"""The rains of a site: whether there is a season, its onset, its end, the last soak."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import RainFacts, RainState, WeatherSeries
from care.planning.rains import rain_facts, rains_of, soaking_rain
from tests.care.science.reference import SeattleRecord

SEATTLE = SeattleRecord()
START = date(2022, 1, 1)
DAYS = 365 + 365 + 366
# The onset worked by hand after Sivakumar (1988) in test_rain_season: rain 10-12 May
# and each sixth day; the last day of rain is 21 September.
ONSET, LAST_RAIN = date(2023, 5, 10), date(2023, 9, 21)


def summer_rains(today, *, unread=()):
    """Two years of a place with rains from May to September, read until yesterday."""
    rain = np.zeros(DAYS)
    for year in (2022, 2023):
        first = (date(year, 5, 10) - START).days
        rain[[first, first + 1, first + 2]] = 8.0, 7.0, 6.0
        rain[first + 8 : first + 139 : 6] = 20.0
    for day in unread:
        rain[(day - START).days] = np.nan
    read = (today - START).days
    mild = np.full(DAYS, 20.0)
    return WeatherSeries(START, mild, mild + 9, rain, "o" * read + "n" * (DAYS - read))


def seattle(today):
    end = SEATTLE.at(today)
    return WeatherSeries(
        SEATTLE.start,
        SEATTLE.tmin_c[:end],
        SEATTLE.tmax_c[:end],
        SEATTLE.rain_mm[:end],
        "o" * end,
    )


@pytest.mark.parametrize(
    ("today", "state", "is_confirmed"),
    [
        (date(2023, 5, 12), RainState.AWAITED, None),  # 15 of 20 mm yet
        (date(2023, 5, 13), RainState.SET_IN, False),
        # The window and thirty days after it
        (date(2023, 6, 11), RainState.SET_IN, False),
        (date(2023, 6, 12), RainState.SET_IN, True),
        (date(2023, 9, 20), RainState.SET_IN, True),
    ],
)
def test_onset_comes_and_is_confirmed(today, state, is_confirmed):
    found = rains_of(summer_rains(today), today)
    assert found.state is state
    assert (found.onset and found.onset.is_confirmed) is is_confirmed
    if found.onset:
        assert found.onset.day == ONSET


@pytest.mark.parametrize(
    ("dry", "state", "is_confirmed"),
    [(9, RainState.SET_IN, None), (10, RainState.ENDED, False), (20, "ended", True)],
)
def test_the_end_is_told_after_ten_dry_days_and_sure_after_twenty(
    dry, state, is_confirmed
):
    today = LAST_RAIN + timedelta(days=dry + 1)
    found = rains_of(summer_rains(today), today)
    assert found.state == state
    assert (found.end and found.end.is_confirmed) is is_confirmed
    if found.end:
        assert (found.end.day, found.end.dry_days) == (LAST_RAIN, dry)


def test_a_new_search_forgets_the_last_season():
    today = date(2023, 4, 20)
    found = rains_of(summer_rains(today), today)
    assert found.state is RainState.AWAITED
    assert found.searched_from is not None
    assert date(2023, 3, 1) < found.searched_from < today


def test_rain_that_nobody_measured_is_neither_rain_nor_drought():
    today = date(2023, 6, 20)
    spell = [ONSET + timedelta(days=n) for n in range(20, 30)]
    found = rains_of(summer_rains(today, unread=spell), today)
    assert found.days - found.read_days == 10
    assert found.onset is not None
    assert not found.onset.is_confirmed
    usual = summer_rains(today)
    blind = WeatherSeries(START, usual.tmin_c, usual.tmax_c, usual.rain_mm, "n" * DAYS)
    assert rains_of(blind, today).state is RainState.UNREAD
    assert soaking_rain(blind, today) is None


def test_even_rain_makes_no_season():
    wet = np.tile([6.0, 0.0, 0.0], DAYS // 3 + 1)[:DAYS]
    series = WeatherSeries(START, wet, wet + 9, wet, "o" * DAYS)
    assert rains_of(series, date(2023, 6, 1)).state is RainState.NO_SEASON


def test_less_than_every_month_tells_no_season():
    today = date(2012, 12, 1)
    assert rains_of(seattle(today), today).state is RainState.UNKNOWN


def test_seattles_rains_come_in_autumn():
    today = date(2015, 2, 1)
    found = rains_of(seattle(today), today)
    assert found.state is RainState.SET_IN
    assert found.onset is not None
    # Read off the record: 23.3 mm fell on 13-15 October 2014, and within the next
    # thirty days the longest dry run was five
    assert found.onset.day == date(2014, 10, 13)
    assert (found.onset.longest_dry_run, found.onset.is_confirmed) == (5, True)


def test_days_after_the_last_of_a_series_are_unread():
    today = LAST_RAIN + timedelta(days=40)
    series = summer_rains(today)
    until = series.index(LAST_RAIN) + 5
    short = WeatherSeries(
        START,
        series.tmin_c[:until],
        series.tmax_c[:until],
        series.rain_mm[:until],
        "o" * until,
    )
    soak = soaking_rain(short, today)
    assert soak is not None
    assert (soak.at_least, soak.at_most) == (1, 40)
    assert rains_of(short, today).days > rains_of(short, today).read_days


def test_days_since_a_soak():
    # 6.4 mm on 13 June 2014, read off the record, and no such day after it
    dry = soaking_rain(seattle(date(2014, 7, 14)), date(2014, 7, 14))
    assert dry is not None
    assert (dry.at_least, dry.at_most) == (31, 31)
    found = soaking_rain(summer_rains(date(2023, 10, 5)), date(2023, 10, 5))
    assert found is not None
    assert (found.at_least, found.at_most, found.is_on_record) == (14, 14, True)


def test_unread_days_since_a_soak_leave_a_range():
    today = date(2023, 10, 5)
    found = soaking_rain(summer_rains(today, unread=[date(2023, 10, 1)]), today)
    assert found is not None
    assert (found.at_least, found.at_most) == (4, 14)


def test_no_soak_on_record():
    dry = np.zeros(30)
    series = WeatherSeries(START, dry, dry + 9, dry, "n" * 5 + "o" * 25)
    found = soaking_rain(series, START + timedelta(days=30))
    assert found is not None
    assert (found.at_most, found.is_on_record) == (26, False)


def test_todays_gauge_counts_once_it_is_read():
    wet = np.append(np.zeros(20), 12.0)
    series = WeatherSeries(START, wet, wet + 9, wet, "o" * 21)
    found = soaking_rain(series, START + timedelta(days=20))
    assert found is not None
    assert (found.at_least, found.at_most) == (0, 0)


def test_rules_may_know_the_usual_season_and_how_sure_the_onset_is():
    today = date(2023, 5, 20)
    facts = rain_facts(summer_rains(today), today)
    # The usual season of two like years: May to September, days 121 to 273
    assert facts == RainFacts(
        RainState.SET_IN,
        began_on=ONSET,
        is_provisional=True,
        usual_start=121,
        usual_end=273,
        days_since_soaking=2,
    )
    # The window of three days and thirty days after it: sure on the next morning
    assert rains_of(summer_rains(today), today).sure_on == date(2023, 6, 12)
    later = date(2023, 6, 12)
    assert not rain_facts(summer_rains(later), later).is_provisional


def test_rules_may_know_that_the_rains_have_ended():
    today = LAST_RAIN + timedelta(days=12)
    found = rain_facts(summer_rains(today), today)
    assert (found.state, found.ended_on) == (RainState.ENDED, LAST_RAIN)
    assert found.is_provisional
    sure = rains_of(summer_rains(today), today).sure_on
    assert sure == LAST_RAIN + timedelta(days=21)
    assert not rain_facts(summer_rains(sure), sure).is_provisional


def test_without_weather_or_season_nothing_is_known_of_the_rains():
    assert rain_facts(None, ONSET) is None
    blind = WeatherSeries(START, np.zeros(9), np.zeros(9), np.zeros(9), "n" * 9)
    assert rain_facts(blind, START) == RainFacts(RainState.UNKNOWN)
    assert rains_of(blind, START).sure_on is None


def test_a_wet_spell_that_dries_up_is_no_onset():
    today = date(2023, 6, 5)
    series = summer_rains(today)
    rain = series.rain_mm.copy()
    rain[series.index(date(2023, 5, 13)) : series.index(today)] = 0.0
    found = rain_facts(replace(series, rain_mm=rain), today)
    assert (found.state, found.began_on) == (RainState.AWAITED, None)
