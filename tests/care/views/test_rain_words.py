"""The rains in words: sure, perhaps, not yet, and not known."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.facts import RainState
from care.planning.moist_months import MoistMonths
from care.planning.past_seasons import PastSeasons, season_fan
from care.planning.rain_lately import RainLately
from care.planning.rain_year import RainYear
from care.planning.rains import Rains, SoakingRain
from care.science.rain_season import Onset, RainsEnd
from care.views.rain_words import (
    lately_words,
    moist_words,
    rain_year_words,
    rains_notice,
    rains_words,
    soaking_words,
)
from orchard.units import UnitSystem

TODAY = date(2023, 6, 20)
SINCE = date(2023, 4, 1)
BEGAN = Onset(
    date(2023, 5, 10),
    is_confirmed=True,
    days_judged=30,
    longest_dry_run=5,
    false_starts=(),
)
MAYBE = Onset(
    date(2023, 6, 10),
    is_confirmed=False,
    days_judged=7,
    longest_dry_run=2,
    false_starts=(),
)


@pytest.mark.parametrize(
    ("rains", "words"),
    [
        (Rains(RainState.UNKNOWN), "Unknown: not every month's usual rain is known"),
        (Rains(RainState.NO_SEASON), "no rainy season to wait for."),
        (
            Rains(RainState.UNREAD, SINCE, 80, 0),
            "Unknown: nobody has measured rain since 1 April.",
        ),
        (
            Rains(RainState.AWAITED, SINCE, 80, 75),
            "The rains have not set in, looking since 1 April. Nobody measured rain on "
            "5 of these 80 days.",
        ),
        (Rains(RainState.SET_IN, SINCE, 80, 80, BEGAN), "The rains set in on 10 May."),
        (
            Rains(RainState.SET_IN, SINCE, 80, 80, MAYBE),
            "The rains seem to have set in since 10 June; still uncertain until 13 "
            "July, as a long dry spell could follow.",
        ),
        (
            Rains(
                RainState.SET_IN,
                SINCE,
                80,
                80,
                replace(BEGAN, false_starts=(date(2023, 4, 6), date(2023, 4, 20))),
            ),
            "The rains set in on 10 May. Wet spells before it dried up again: 6 April "
            "and 20 April.",
        ),
        (
            Rains(
                RainState.ENDED,
                SINCE,
                80,
                80,
                BEGAN,
                RainsEnd(date(2023, 6, 8), is_confirmed=False, dry_days=11),
            ),
            "The rains set in on 10 May. The rains seem to have ended on 8 June, 11 "
            "days dry since; still uncertain until 29 June.",
        ),
        (
            Rains(
                RainState.ENDED,
                SINCE,
                80,
                80,
                BEGAN,
                RainsEnd(date(2023, 5, 28), is_confirmed=True, dry_days=20),
            ),
            "The rains set in on 10 May. The rains ended on 28 May.",
        ),
    ],
)
def test_the_rains_are_told_as_surely_as_they_are_known(rains, words):
    assert words in rains_words(rains, TODAY)


@pytest.mark.parametrize(
    ("soaking", "words"),
    [
        (None, "Unknown: no rain has been measured here."),
        (SoakingRain(0, 0, is_on_record=True), "Today, 0.25 in or more."),
        (SoakingRain(1, 1, is_on_record=True), "1 day ago, 0.25 in or more."),
        (SoakingRain(3, 18, is_on_record=True), "18 days ago at most, 0.25 in or more"),
        (SoakingRain(40, 40, is_on_record=False), "None of 0.25 in or more in 40 days"),
        (SoakingRain(4, 40, is_on_record=False), "some days were not read."),
    ],
)
def test_the_last_soak_is_a_range_where_days_were_not_read(soaking, words):
    assert words in soaking_words(soaking, UnitSystem.US)


ENDED = RainsEnd(date(2023, 6, 8), is_confirmed=True, dry_days=20)


@pytest.mark.parametrize(
    ("rains", "today", "words"),
    [
        (Rains(RainState.AWAITED, SINCE, 80, 80), TODAY, ""),
        (
            Rains(RainState.SET_IN, SINCE, 80, 80, MAYBE),
            TODAY,
            "The rains seem to have set in since 10 June; still uncertain until 13 "
            "July, as a long dry spell could follow.",
        ),
        # Sure from 12 June on: news for a fortnight
        (
            Rains(RainState.SET_IN, SINCE, 80, 80, BEGAN),
            date(2023, 6, 25),
            "The rains set in on 10 May.",
        ),
        (Rains(RainState.SET_IN, SINCE, 80, 80, BEGAN), date(2023, 6, 26), ""),
        (
            Rains(RainState.ENDED, SINCE, 80, 80, BEGAN, ENDED),
            date(2023, 7, 12),
            "The rains ended on 8 June.",
        ),
        (Rains(RainState.ENDED, SINCE, 80, 80, BEGAN, ENDED), date(2023, 7, 13), ""),
        # Days that nobody read leave it open
        (
            Rains(RainState.SET_IN, SINCE, 80, 60, MAYBE),
            date(2023, 8, 1),
            "The rains seem to have set in since 10 June; still uncertain, as a long "
            "dry spell could follow.",
        ),
    ],
)
def test_an_onset_or_end_is_told_while_it_is_news(rains, today, words):
    assert rains_notice(rains, today) == words


@pytest.mark.parametrize(
    ("lately", "words"),
    [
        (
            RainLately(30, 12.7, 0, 50.8, None, 4),
            "0.5 in, 25% of the usual 2 in.",
        ),
        (
            RainLately(90, 12.7, 0, 50.8, -1.6, 24),
            "0.5 in, 25% of the usual 2 in; severely dry for the time of year, going "
            "by 24 years.",
        ),
        (RainLately(30, 0.0, 0, 5.0, None, 0), "0 in, where hardly any is usual."),
        (
            RainLately(30, 12.7, 2, None, None, 0),
            "At least 0.5 in. 2 days not read.",
        ),
    ],
)
def test_recent_rain_is_told_beside_the_usual(lately, words):
    assert lately_words(lately, UnitSystem.US) == words


SPRING = MoistMonths(date(2001, 3, 5), date(2001, 5, 20), None)
AUTUMN = MoistMonths(date(2001, 9, 2), date(2001, 11, 30), date(2001, 12, 24))


@pytest.mark.parametrize(
    ("periods", "words"),
    [
        ((), ""),
        ((SPRING,), "Rain covers half of what plants use from 5 March to 20 May."),
        (
            (SPRING, AUTUMN),
            "Rain covers half of what plants use from 5 March to 20 May; from 2 "
            "September to 30 November, and the soil's store then lasts until about 24 "
            "December.",
        ),
    ],
)
def test_moist_months_are_told_with_their_store(periods, words):
    assert moist_words(periods) == words


def rain_of(past, *, unread=0, read=20, units=UnitSystem.METRIC):
    """Words of a year with 5 mm a day, twenty days old, beside such past years."""
    sums = np.array([np.cumsum(np.full(365, each)) for each in past]).reshape(-1, 365)
    start = date(2023, 5, 31)
    seasons = PastSeasons(tuple(date(2022 - n, 5, 31) for n in range(len(past))), sums)
    fell = np.cumsum(np.full(read, 5.0))
    last = start + timedelta(days=read - 1)
    fan = season_fan(start, fell, seasons, np.zeros((0, 365)), last) if read else None
    year = RainYear(start, fan, seasons, unread, last if read else None)
    return rain_year_words(year, TODAY, units)


def test_rain_of_the_year_beside_what_is_usual():
    assert rain_of([4.0, 6.0, 7.0]) == "100 mm since 31 May; 120 mm is usual by then."
    assert rain_of([4.0]) == "100 mm since 31 May; 80 mm the year before."
    assert rain_of([]) == "100 mm since 31 May."
    assert rain_of([], units=UnitSystem.US).startswith("3.9 in since")


def test_rain_that_went_unread_is_told():
    words = rain_of([4.0, 6.0, 7.0], unread=4, read=16)
    assert words == (
        "80 mm since 31 May; 96 mm is usual by then. 4 days not read, so it may be more."
    )
    assert rain_of([4.0], read=0) == "Unknown: nobody has measured rain since 31 May."


def test_the_rain_year_begins():
    seasons = PastSeasons((), np.zeros((0, 365)))
    fan = season_fan(TODAY, np.zeros(0), seasons, np.zeros((0, 365)), TODAY)
    words = rain_year_words(
        RainYear(TODAY, fan, seasons, 0, None), TODAY, UnitSystem.METRIC
    )
    assert words == "The rain year begins today."
