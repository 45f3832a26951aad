"""The rains in words: sure, perhaps, not yet, and not known."""

from datetime import date

import pytest

from care.facts import RainState
from care.planning.rains import Rains, SoakingRain
from care.science.rain_season import Onset, RainsEnd
from care.views.rain_words import rains_words, soaking_words
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
            "may have set in on 10 June; a long dry spell could still follow.",
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
            "They may have ended on 8 June: 11 days dry since.",
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
            "They ended on 28 May.",
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
