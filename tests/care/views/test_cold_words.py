"""How heavy, where to, until when: a cold night's words, whatever is known."""

from datetime import date

import pytest

from care.models import Task
from care.views.cold_words import out_words, room_words, uncover_words, weight_words
from care.views.evening_steps import Reader, cold_steps
from care.views.wording import StoredReason
from orchard.models import Tree
from orchard.units import UnitSystem

TODAY = date(2025, 11, 28)
METRIC = UnitSystem.METRIC


def reason(**facts):
    return StoredReason("cold", tuple(facts.items()), ())


@pytest.mark.parametrize(
    ("facts", "units", "words"),
    [
        (
            {"wet_kg": 8, "carried_by": "one"},
            METRIC,
            "about 8 kg when wet: one person",
        ),
        # 27 kg are 59.5 lb: NIST SP 811 (2008), appendix B.8.
        (
            {"wet_kg": 27, "carried_by": "two"},
            UnitSystem.US,
            "about 60 lb when wet: two people",
        ),
        (
            {"wet_kg": None, "carried_by": "two"},
            METRIC,
            "its weight is not known: two people",
        ),
        ({}, METRIC, ""),
    ],
)
def test_a_pot_is_told_with_its_weight_and_who_carries_it(facts, units, words):
    assert weight_words(reason(**facts), units) == words


def test_an_evergreen_stands_in_the_light_and_a_bare_tree_needs_none():
    heated = reason(last_indoors="indoors_heated", is_evergreen=True)
    assert room_words(heated) == (
        "back into the heated room where it stood last, in the light"
    )
    assert (
        room_words(reason()) == "into a room without frost; once bare it needs no light"
    )


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        (
            {"likely_out_on": "2025-12-02"},
            "likely back out on Tuesday, if the nights stay as forecast",
        ),
        (
            {"frosts_until": "2026-03-20"},
            "likely to stay in until the frosts end, near 20 March 2026",
        ),
        ({}, "to go back out once three nights in a row are forecast warm enough"),
    ],
)
def test_when_a_pot_goes_out_again_is_said_as_far_as_anybody_can(facts, words):
    assert out_words(reason(**facts), TODAY) == words


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        (
            {"cold_on": "2025-11-29", "thaw_after_sunrise_h": 0.5},
            "tomorrow morning, once it is above freezing, likely about half an hour after sunrise",
        ),
        (
            {"cold_on": "2025-11-29", "thaw_after_sunrise_h": 0.0},
            "tomorrow morning, once the sun is on it",
        ),
        ({"cold_on": "2025-11-28"}, "today, once it is above freezing"),
        ({}, "in the morning, once it is above freezing"),
    ],
)
def test_a_cover_is_opened_once_it_has_thawed(facts, words):
    assert uncover_words(reason(**facts), TODAY) == words


def task(name, action, **facts):
    pairs = [[key, value] for key, value in facts.items()]
    return Task(
        tree=Tree(name=name),
        kind="cold",
        action=action,
        reason={"code": "", "facts": pairs},
    )


def test_pots_that_go_out_on_different_days_are_named_each():
    lines = cold_steps(
        [
            task("Lemon", "move_in", likely_out_on="2025-12-02"),
            task("Fig", "move_in"),
        ],
        Reader(TODAY, METRIC),
    )
    assert lines[-2].startswith("Lemon is likely back out on Tuesday")
    assert lines[-1].startswith("Fig is to go back out once")


def test_what_is_not_known_is_said_or_left_out():
    lines = cold_steps(
        [
            task("Satsuma", "pick_ripe"),
            task("Orange", "cover", threshold_c=-2.0),
            task("Fig", "cover", threshold_c=-2.0, hours_below=0.0),
            task("Bay", "cover"),
        ],
        Reader(TODAY, METRIC),
    )
    assert "• Satsuma." in lines
    assert (
        "• Orange: bears -2 °C, and how long it stays that cold is not known." in lines
    )
    assert "• Fig: bears -2 °C." in lines
    assert "• Bay: what it bears is not known." in lines
