"""Sizes of crowns in time, by hand."""

from datetime import date

import pytest
from hypothesis import given, strategies as st

from care.facts import PlanTime, Standing
from care.science.crown_growth import Size, size_at
from tests.care.science.layouts import plant, plants

TODAY = date(2014, 7, 1)


def sizes(**changes):
    some = plant(1, grown_spread_m=5.0, grown_height_m=6.0, **changes)
    return [size_at(some, when, TODAY) for when in PlanTime]


def test_one_still_to_come_grows_half_the_line_in_five_years():
    # From 0.5 m: half-way to 5 m and 6 m.
    assert sizes(standing=Standing.WANTED) == [
        Size(0.5, 0.5),
        Size(2.75, 3.25),
        Size(5.0, 6.0),
    ]


def test_one_planted_four_years_ago_has_five_sixths_of_its_line_in_five():
    # Six years are left of ten: from 2.0 m five sixths of the 3.0 m that are left.
    _, five, grown = sizes(crown_width_m=2.0, height_m=3.0, planted_on=date(2010, 7, 1))
    assert five.width_m == pytest.approx(4.5, abs=0.01)
    assert five.height_m == pytest.approx(5.5, abs=0.01)
    assert grown == Size(5.0, 6.0)


def test_an_old_tree_is_grown_within_five_years_and_a_future_one_not_begun():
    assert sizes(crown_width_m=4.0, planted_on=date(1990, 1, 1))[1].width_m == 5.0
    later = sizes(crown_width_m=1.0, planted_on=date(2014, 11, 1))
    assert later[1].width_m == pytest.approx(3.0)


def test_a_pot_keeps_its_plant_as_it_is():
    assert len(set(sizes(in_container=True, crown_width_m=1.1, height_m=1.5))) == 1


def test_a_neighbours_tree_counts_as_grown():
    assert set(sizes(standing=Standing.NEIGHBOUR)) == {Size(5.0, 6.0)}


@given(plants(most=1))
def test_no_plant_shrinks(some):
    widths = [size_at(some[0], when, TODAY).width_m for when in PlanTime]
    assert widths == sorted(widths)


@given(st.dates(date(1990, 1, 1), date(2020, 1, 1)))
def test_five_years_lie_between_now_and_grown(planted_on):
    now, five, grown = sizes(crown_width_m=1.0, planted_on=planted_on)
    assert now.width_m < five.width_m <= grown.width_m
