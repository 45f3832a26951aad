"""Likely days, in words."""

from dataclasses import replace
from datetime import date

import pytest

from care.planning.ensemble import LikelyDay, Members
from care.views.days import DASH
from care.views.likely_words import likely_day_words, members_words

TODAY = date(2015, 3, 1)
MEMBERS = Members(30, 3, 27)
BLOOM = LikelyDay(
    low=date(2015, 3, 28),
    middle=date(2015, 4, 2),
    high=date(2015, 4, 9),
    share=0.98,
    is_firm=False,
    until=date(2015, 6, 30),
    members=MEMBERS,
)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, f"likely 28 March {DASH} 9 April"),
        ({"high": date(2015, 3, 28)}, "likely 28 March"),
        (
            {"high": None, "share": 0.42},
            "28 March at the earliest; 4 chances in 10 that it comes by 30 June",
        ),
        (
            {"high": None, "middle": None, "share": 0.12},
            "28 March at the earliest; 1 chance in 10 that it comes by 30 June",
        ),
        (
            {"low": None, "middle": None, "high": None, "share": 0.02},
            "not likely by 30 June",
        ),
        ({"low": date(2015, 2, 20), "is_firm": True}, "on 20 February"),
        ({"low": date(2015, 3, 4), "is_firm": True}, "on 4 March, by the forecast"),
    ],
)
def test_likely_days(changes, words):
    assert likely_day_words(replace(BLOOM, **changes), TODAY) == words


def test_what_lasts_is_told_since_its_day():
    met = replace(BLOOM, low=date(2015, 2, 20), is_firm=True)
    assert likely_day_words(met, TODAY, since="since") == "since 20 February"


def test_nothing_is_said_of_nothing():
    assert likely_day_words(None, TODAY) == ""


@pytest.mark.parametrize(
    ("members", "words"),
    [
        (Members(30, 3, 27), "from 3 past years and 27 generated"),
        (Members(12, 12, 0), "from 12 past years"),
        (Members(5, 1, 0), "from 1 past year"),
        (Members(30, 0, 30), "from 30 generated years"),
        (Members(0, 0, 0), ""),
    ],
)
def test_where_a_range_comes_from(members, words):
    assert members_words(members) == words
