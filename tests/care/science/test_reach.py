"""How high the work on a tree is."""

from datetime import date

import pytest

from care.science.reach import (
    CAREFUL_M,
    STOP_M,
    needs_professional,
    working_height_m,
)
from tests.care.rules.cases import species, tree

TODAY = date(2014, 1, 10)
FOOT_M = 0.3048


def test_fifteen_feet_is_a_caution_and_twenty_a_stop():
    # Oregon State University Extension: trees above 15-20 ft are for a professional
    assert pytest.approx(15 * FOOT_M, abs=0.01) == CAREFUL_M
    assert pytest.approx(20 * FOOT_M, abs=0.01) == STOP_M


@pytest.mark.parametrize(
    ("changes", "height_m"),
    [
        ({"height_m": 3.2}, 3.2),
        ({}, 6.0),
        ({"in_container": True}, 0.0),
        ({"planted_on": date(2013, 3, 1)}, 0.0),
        ({"planted_on": None}, 6.0),
        ({"species": species(mature_height_m=None)}, 0.0),
    ],
)
def test_what_nobody_measured_is_as_tall_as_its_kind_unless_fresh_or_potted(
    changes, height_m
):
    assert working_height_m(tree(**changes), TODAY) == height_m


def test_only_a_measured_height_stops_the_work():
    assert needs_professional(tree(height_m=6.2))
    assert not needs_professional(tree(height_m=6.0))
    assert not needs_professional(tree(species(mature_height_m=25.0)))
