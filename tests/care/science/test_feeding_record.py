"""What the log and the readings say of one tree's feeding so far."""

from datetime import date

import pytest

from care.facts import Observation, WorkDone
from care.science.crop import is_bearing
from care.science.feeding_record import (
    Growth,
    as_fed,
    doses,
    given_nitrogen_g,
    growth,
    last_dose_on,
    suspects,
)
from tests.care.rules.cases import MILD, WARM, morning, orange, outlook, species, tree

SPRING = date(2014, 3, 10)


def fed(key, grams=None, on=SPRING):
    return WorkDone(1, "feeding", key, on, "done", grams)


def test_parts_a_season_where_it_stands():
    pot = tree(in_container=True, container_litres=30.0)
    assert as_fed(morning(SPRING, pot)).feed_times_per_year == 4
    assert as_fed(morning(SPRING)).feed_times_per_year == 1
    assert as_fed(morning(SPRING, site=WARM)).feed_times_per_year == 2  # on sand
    citrus = morning(SPRING, tree(orange()), WARM)
    assert as_fed(citrus).feed_times_per_year == 3


def test_unknown_amounts_count_as_one_part_and_words_as_nothing():
    work = (fed("2014/1", 40.0), fed(""), fed("2014/growth"), fed("2014/told"))
    situation = morning(SPRING, work=work)
    assert len(doses(situation, 2014)) == 2
    assert given_nitrogen_g(situation, 2014, split_g=25.0) == 65.0
    assert last_dose_on(situation) == SPRING
    assert last_dose_on(morning(SPRING)) is None


@pytest.mark.parametrize(
    ("verdict", "cause", "share", "is_to_be_asked"),
    [
        ("short", "", 1.0, True),
        ("short", "none", 1.0, False),
        ("short", "unsure", 0.5, False),
        ("short", "dry", 0.0, False),
        ("in_band", "", 0.5, False),
        ("long", "", 0.0, False),
        ("long", "dry", 0.0, False),
    ],
)
def test_what_growth_asks_for(verdict, cause, share, is_to_be_asked):
    grown = Growth(100.0, SPRING, 200.0, 400.0, verdict, cause)
    assert (grown.share, grown.is_to_be_asked) == (share, is_to_be_asked)


def test_citrus_has_no_gauge_and_a_reading_must_be_of_the_year():
    reading = Observation(1, "shoot_growth_mm", date(2013, 10, 1), 300.0)
    assert growth(morning(SPRING, observations=(reading,)), 2014).verdict == "in_band"
    citrus = morning(SPRING, tree(orange()), observations=(reading,))
    assert growth(citrus, 2014) is None
    pot = tree(in_container=True, container_litres=30.0)
    assert growth(morning(SPRING, pot, observations=(reading,)), 2014) is None
    late = morning(date(2014, 12, 1), observations=(reading,))
    assert growth(late, 2015) is None


def test_a_tree_of_unknown_age_counts_as_bearing():
    assert is_bearing(tree(planted_on=None), SPRING)
    assert is_bearing(tree(species(years_to_first_crop=None)), SPRING)
    assert not is_bearing(tree(planted_on=date(2012, 3, 1)), SPRING)


@pytest.mark.parametrize(
    ("situation", "found"),
    [
        (morning(SPRING), ()),
        (morning(SPRING, water=outlook()), ()),
        (morning(SPRING, water=outlook(stress_ks=0.9)), ("dry",)),
        (morning(SPRING, water=outlook(history_missing_l=(60.0,))), ("dry",)),
        (morning(SPRING, water=outlook(is_saturated=True)), ("wet",)),
        (morning(SPRING, tree(drainage_hours=30.0)), ("wet",)),
        (morning(SPRING, tree(planted_on=date(2013, 3, 1)), MILD), ("planting",)),
    ],
)
def test_what_the_records_suggest_kept_shoots_short(situation, found):
    assert suspects(situation) == found
