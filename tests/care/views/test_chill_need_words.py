"""Enough chill, in words: met, perhaps, expected, not at all, not known."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from care.planning.chill_needs import NeedOutlook
from care.planning.ensemble import LikelyDay, Members
from care.planning.species_facts import species_facts
from care.planning.winter import Chill, Winter, WinterOutlook
from care.views import chill_need_words
from care.views.chill_need_words import need_rows, needs_of
from care.views.days import DASH
from care.views.tree_lines import QUOTES

TODAY = date(2015, 1, 1)
WINTER = Winter(
    date(2014, 11, 1), date(2015, 3, 31), 61, 61, 0, Chill(900, 950, 60, 62, 1300, 1320)
)
OUTLOOK = WinterOutlook(WINTER, (), 0, np.zeros((2, 1, 151)))
OPEN = NeedOutlook(600.0, None, None, 0, 0, 0)
ALMOND = needs_of([species_facts("almond")])


def told(found, monkeypatch, winter=WINTER, enough=None):
    monkeypatch.setattr(chill_need_words, "need_outlook", lambda _outlook, _need: found)
    outlook = replace(OUTLOOK, latest=winter)
    (row,) = need_rows(outlook, ALMOND[:1], enough or {}, TODAY)
    return row


@pytest.mark.parametrize(
    ("changes", "now", "past"),
    [
        ({}, "Not yet", "None on record"),
        (
            {"met_first": date(2014, 12, 3), "met_surely": date(2014, 12, 7)},
            f"Enough since 3{DASH}7 December 2014",
            "None on record",
        ),
        (
            {"met_first": date(2014, 12, 3)},
            "Perhaps enough since 3 December 2014",
            "None on record",
        ),
        (
            {"winters": 3, "met_at_least": 2, "met_at_most": 3},
            "Not yet",
            f"2{DASH}3 of 3",
        ),
        (
            {"winters": 1, "met_at_least": 1, "met_at_most": 1},
            "Not yet",
            "1 of 1",
        ),
    ],
)
def test_a_need_is_told_as_far_as_it_is_known(changes, now, past, monkeypatch):
    row = told(replace(OPEN, **changes), monkeypatch)
    assert (row.now, row.past) == (now, past)


def test_a_need_not_met_yet_is_likely_when_the_courses_meet_it(monkeypatch):
    likely = LikelyDay(
        low=date(2015, 1, 9),
        middle=date(2015, 1, 15),
        high=date(2015, 1, 28),
        share=0.98,
        is_firm=False,
        until=date(2015, 5, 30),
        members=Members(30, 3, 27),
    )
    enough = {ALMOND[0].hours: likely}
    assert told(OPEN, monkeypatch, enough=enough).now == f"Likely 9{DASH}28 January"
    other = {ALMOND[0].hours + 1: likely}
    assert told(OPEN, monkeypatch, enough=other).now == "Not yet"


def test_a_winter_that_is_over_fell_short(monkeypatch):
    over = replace(WINTER, days=151, observed_days=151)
    assert told(OPEN, monkeypatch, over).now == "Not enough last winter"


def test_a_winter_of_which_too_little_is_known_tells_nothing(monkeypatch):
    assert told(OPEN, monkeypatch, replace(WINTER, observed_days=9)).now == "Unknown"


def test_rows_stand_by_name_one_for_each_need():
    keys = ("pear", "apple", "pear", "orange")
    needs = needs_of(species_facts(key) for key in keys)
    rows = need_rows(OUTLOOK, needs, {}, TODAY)
    assert [(row.name, row.need) for row in rows] == [
        ("Apple, cultivars that need least", "250"),
        ("Apple, cultivars that need most", "1,000"),
        ("European pear, cultivars that need least", "200, unverified"),
        ("European pear, cultivars that need most", "800, unverified"),
    ]


def test_one_need_makes_one_row():
    almond = species_facts("almond")
    alone = replace(almond, chill_hours_max=almond.chill_hours_min)
    (row,) = need_rows(OUTLOOK, needs_of([alone]), {}, TODAY)
    assert row.name == "Almond"


def test_a_known_cultivar_has_needs_of_its_own():
    apple = species_facts("apple")
    anna = replace(apple, chill_of="Anna", chill_hours_min=200, chill_hours_max=300)
    tropic = replace(anna, chill_of="TropicSweet", chill_hours_min=300)
    rows = need_rows(OUTLOOK, needs_of([tropic, anna, apple]), {}, TODAY)
    assert [(row.name, row.need) for row in rows] == [
        ("Apple, cultivars that need least", "250"),
        ("Apple, cultivars that need most", "1,000"),
        (f"Apple {QUOTES.format('Anna')}, if it needs least", "200"),
        (f"Apple {QUOTES.format('Anna')}, if it needs most", "300"),
        (f"Apple {QUOTES.format('TropicSweet')}", "300"),
    ]
