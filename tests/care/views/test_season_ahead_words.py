"""Bloom, first fruit, frost and hot days to come, in words."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from care.planning.cold_by_species import SpeciesCold
from care.planning.ensemble import (
    ChillAhead,
    Fan,
    FrostAhead,
    HeatAhead,
    LikelyAmount,
    LikelyDay,
    Members,
    StageAhead,
)
from care.views.days import DASH
from care.views.season_ahead_words import (
    ahead_rows,
    bloom_lead,
    cold_rows,
    courses_words,
    frost_ahead_words,
    hot_days_words,
    mildness_words,
    winter_ahead_words,
)
from orchard.units import UnitSystem

TODAY = date(2015, 1, 20)
REAL, MADE = Members(12, 12, 0), Members(30, 2, 20)


def likely(first, last, *, members=REAL, until=date(2015, 7, 31), **changes):
    middle = first + (last - first) / 2
    day = LikelyDay(
        first, middle, last, 0.98, is_firm=False, until=until, members=members
    )
    return replace(day, **changes)


APPLE = StageAhead(
    "apple", "Apple",
    likely(date(2015, 4, 1), date(2015, 4, 27)),
    likely(date(2015, 7, 20), date(2015, 8, 15)),
)  # fmt: skip
APRICOT = StageAhead(
    "apricot", "Apricot", likely(date(2015, 3, 17), date(2015, 4, 10)), None
)
LEMON = StageAhead("lemon", "Lemon", None, None)


def test_species_stand_in_the_order_of_their_bloom():
    rows = ahead_rows([APPLE, APRICOT, LEMON], TODAY)
    assert [row.name for row in rows] == ["Apricot", "Apple"]
    assert rows[1].bloom == f"Likely 1{DASH}27 April"
    assert rows[1].picking == f"Likely 20 July {DASH} 15 August"
    assert rows[0].picking == ""


def test_the_first_and_the_last_bloom_to_come():
    assert bloom_lead([APPLE, APRICOT, LEMON], TODAY) == (
        f"Apricot first, likely 17 March {DASH} 10 April; "
        f"apple last, likely 1{DASH}27 April."
    )
    assert bloom_lead([APPLE], TODAY) == f"Apple likely 1{DASH}27 April."
    assert bloom_lead([APPLE, APRICOT], date(2015, 5, 1)) == ""
    assert bloom_lead([LEMON], TODAY) == ""


def frosts(**changes):
    ahead = FrostAhead(
        0.0,
        last_spring=likely(date(2015, 2, 9), date(2015, 3, 23)),
        first_autumn=likely(
            date(2015, 11, 11), date(2015, 11, 27), until=date(2015, 12, 31)
        ),
    )
    return replace(ahead, **changes)


def test_the_nearer_frost_is_told_first():
    assert frost_ahead_words(frosts(), TODAY) == (
        f"Last frost of spring likely 9 February {DASH} 23 March; "
        f"first frost of autumn likely 11{DASH}27 November."
    )
    came = likely(
        date(2014, 11, 12), date(2014, 11, 12), until=date(2014, 12, 31), is_firm=True
    )
    words = frost_ahead_words(frosts(first_autumn=came), date(2014, 12, 1))
    assert words.startswith("First frost of autumn came on 12 November; last frost")


def test_of_the_farther_frost_only_what_is_likely_is_told():
    cut = replace(frosts().first_autumn, high=None, share=0.7)
    words = frost_ahead_words(frosts(first_autumn=cut), TODAY)
    assert words == f"Last frost of spring likely 9 February {DASH} 23 March."
    near = replace(frosts().last_spring, high=None, share=0.3)
    words = frost_ahead_words(frosts(last_spring=near), TODAY)
    assert "at the earliest; 3 chances in 10" in words
    over = replace(frosts().last_spring, low=date(2015, 2, 9), is_firm=True)
    words = frost_ahead_words(
        frosts(last_spring=over, first_autumn=cut), date(2015, 7, 1)
    )
    assert words.startswith("Last frost of spring came on 9 February; first frost of")
    assert "at the earliest; 7 chances in 10" in words


def test_a_place_where_hardly_any_frost_comes():
    never = likely(
        TODAY, TODAY, until=date(2015, 7, 31), low=None, middle=None, high=None
    )
    words = frost_ahead_words(FrostAhead(0.0, never, None), TODAY)
    assert words == "No frost likely by 31 July."
    assert frost_ahead_words(FrostAhead(0.0, None, None), TODAY) == ""
    assert frost_ahead_words(None, TODAY) == ""


def test_made_up_years_are_called_too_mild():
    made = likely(date(2015, 2, 9), date(2015, 3, 23), members=MADE)
    assert "too mild" in mildness_words(FrostAhead(0.0, made, None))
    assert mildness_words(frosts()) == ""
    assert mildness_words(None) == ""


def heat(low, high, until=date(2015, 12, 31)):
    days = LikelyAmount(
        low, (low + high) / 2, high, is_firm=False, until=until, members=REAL
    )
    none = np.zeros(1)
    return HeatAhead(days, Fan(TODAY, none, none, none, TODAY, REAL))


@pytest.mark.parametrize(
    ("ahead", "words"),
    [
        (heat(8, 28), f"Likely 8{DASH}28 more days above 30 °C by 31 December."),
        (heat(1, 1), "Likely 1 more day above 30 °C by 31 December."),
        (heat(0, 0), ""),
        (None, ""),
    ],
)
def test_hot_days_to_come(ahead, words):
    found = hot_days_words(ahead, TODAY, UnitSystem.METRIC)
    assert found.replace("\N{NO-BREAK SPACE}", " ").replace("30.0", "30") == words
    if words:
        assert "86" in hot_days_words(ahead, TODAY, UnitSystem.US)


def test_what_likely_days_rest_on():
    assert courses_words(REAL).endswith("keep to them, from 12 past years.")
    assert courses_words(MADE).endswith(
        "from 2 past years and 20 generated. With fewer than ten past years this is coarse."
    )
    assert courses_words(None) == ""
    assert courses_words(Members(0, 0, 0)) == ""


def cold(bears_c, ahead, *, pot=False, buds=False, unverified=False):
    return SpeciesCold("Lemon", pot, bears_c, buds, unverified, ahead)


def test_what_the_trees_bear_and_when_such_a_night_may_come():
    never = likely(TODAY, TODAY, low=None, middle=None, high=None)
    rows = cold_rows(
        [
            cold(4.4, frosts(), pot=True, unverified=True),
            cold(-2.2, FrostAhead(-2.2, never, frosts().first_autumn), buds=True),
            cold(-8.0, FrostAhead(-8.0, never, None)),
            cold(-9.0, None),
        ],
        TODAY,
        UnitSystem.US,
    )
    assert [row.name for row in rows] == ["Lemon, in a pot", *["Lemon"] * 3]
    assert [row.bears.replace("\N{NO-BREAK SPACE}", " ") for row in rows] == [
        "40 °F, then the pot comes in, unverified",
        "28 °F, open buds and flowers",
        "18 °F",
        "16 °F",
    ]
    assert [row.nights for row in rows] == [
        f"Last of spring likely 9 February {DASH} 23 March; "
        f"first of autumn likely 11{DASH}27 November",
        f"First of autumn likely 11{DASH}27 November",
        "None likely by 31 July",
        "",
    ]


def test_what_a_winter_likely_ends_with():
    end = date(2015, 3, 31)
    hours = LikelyAmount(1236.0, 1629.0, 1897.0, is_firm=False, until=end, members=MADE)
    none = np.zeros(1)
    fan = Fan(TODAY, none, none, none, TODAY, MADE)
    ahead = ChillAhead(hours, hours, {}, fan, fan)
    assert winter_ahead_words(ahead, TODAY) == (
        f"Likely 1,240{DASH}1,900 by 31 March, from 2 past years and 20 generated."
    )
    over = replace(ahead, hours=replace(hours, is_firm=True))
    assert winter_ahead_words(over, TODAY) == winter_ahead_words(None, TODAY) == ""
