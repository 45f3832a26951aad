"""Suckers, water sprouts, pups and sick wood: when, and how far below."""

from datetime import date, timedelta

import pytest

from care.facts import Stage, StageDay
from care.planning.species_facts import species_facts
from care.science.crop import Bloom
from care.science.shoots import (
    BLIGHT_LEAST_MM,
    BLIGHT_MOST_MM,
    SPROUT_LEAST_MM,
    SPROUT_MOST_MM,
    STEMS_KEPT,
    TOOL_ALCOHOL_PERCENT,
    TOOL_SECONDS,
    blight_window,
    has_rootstock,
    keeps_mummies,
    sprouts_window,
    suckers_window,
)
from tests.care.rules.cases import WARM, WARM_SOUTH, morning, species, tree

INCH_MM = 25.4
TODAY = date(2014, 4, 10)


def test_published_lengths():
    # UC IPM Pest Notes 7414: 8-12 in below what shows; 70 % alcohol, about half a minute
    assert pytest.approx(8 * INCH_MM, abs=5) == BLIGHT_LEAST_MM
    assert pytest.approx(12 * INCH_MM, abs=5) == BLIGHT_MOST_MM
    assert (TOOL_ALCOHOL_PERCENT, TOOL_SECONDS) == (70.0, 30.0)
    # Washington State University Extension: pulled at 10-12 in
    assert pytest.approx(10 * INCH_MM, abs=5) == SPROUT_LEAST_MM
    assert pytest.approx(12 * INCH_MM, abs=5) == SPROUT_MOST_MM
    # The catalogue's note on banana: three to four stems to a mat
    assert "3-4 stems" in species_facts("banana").pup_notes
    assert STEMS_KEPT == (3, 4)


def test_suckers_are_looked_for_in_april_and_sprouts_pulled_in_mid_june():
    # UC Master Gardeners, Sacramento: suckers in April; buds break in March there
    situation = morning(TODAY, site=WARM)
    suckers = suckers_window(situation, 2014)
    assert date(2014, 4, 1) in suckers
    assert date(2014, 4, 30) in suckers
    buds = StageDay(Stage.BUD_BREAK, 2014, date(2014, 4, 1), "seen")
    sprouts = sprouts_window(morning(TODAY, stages=(buds,)), 2014)
    assert date(2014, 6, 15) in sprouts


def test_windows_mirror_by_half_a_year():
    for window in (suckers_window, sprouts_window):
        north = window(morning(TODAY, site=WARM), 2014)
        south = window(morning(TODAY, site=WARM_SOUTH), 2014)
        assert abs((south.start - north.start).days - 182.6) <= 4


def test_blight_shows_after_petal_fall():
    full = date(2014, 4, 20)
    window = blight_window(Bloom(2014, full))
    assert window.start == full + timedelta(weeks=2)
    assert window.end == full + timedelta(weeks=10)


@pytest.mark.parametrize(
    ("changes", "grafted"),
    [
        ({}, True),
        ({"is_grafted": False}, False),
        ({"species": species("fig")}, False),
        ({"species": species("blueberry", habit="shrub")}, False),
        ({"species": species("kumquat", habit="shrub")}, True),
        ({"species": species("grape", habit="vine")}, False),
    ],
)
def test_what_stands_on_a_rootstock(changes, grafted):
    assert has_rootstock(tree(**changes)) is grafted


@pytest.mark.parametrize("key", ["apple", "peach", "almond"])
def test_rot_winters_in_pome_and_stone_fruit_and_almonds(key):
    assert keeps_mummies(species_facts(key))


@pytest.mark.parametrize("key", ["loquat", "fig", "walnut"])
def test_other_fruit_is_not_left_hanging(key):
    assert not keeps_mummies(species_facts(key))
