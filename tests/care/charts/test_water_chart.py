"""The drawing of a tree's water: places, axes, table."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, strategies as st

from care.charts.water_chart import (
    BOTTOM,
    LEFT,
    RIGHT,
    TOP,
    expected_course,
    water_chart,
)
from care.facts import WaterCourse, WaterOutlook
from orchard.units import UnitSystem

TODAY = date(2025, 7, 2)

OUTLOOK = WaterOutlook(
    is_container=False,
    store_l=80.0,
    missing_l=20.0,
    outer_store_l=0.0,
    outer_missing_l=0.0,
    readily_available_l=40.0,
    spare_l=20.0,
    depletion_p=0.5,
    use_l=5.0,
    et0_mm=4.0,
    et0_method="hargreaves",
    kc=0.9,
    crown_area_m2=3.0,
    stress_ks=1.0,
    water_net_l=40.0,
    water_gross_l=45.0,
    earliest_in_days=2,
    due_in_days=4,
    latest_in_days=6,
    later_in_days=(12,),
    later_net_l=(40.0,),
    history_days=tuple(TODAY - timedelta(days=days) for days in range(40, -1, -1)),
    history_missing_l=tuple(float(number % 21) for number in range(41)),
)


def course_of(dry_l, watered=(), first=0):
    """Return a course from ``first`` days on; ``watered`` are places in it."""
    dry = np.array(dry_l, dtype=np.float64)
    given = np.zeros(len(dry))
    given[list(watered)] = dry[list(watered)]
    return WaterCourse(
        days=tuple(TODAY + timedelta(days=first + n) for n in range(len(dry))),
        dry_l=dry,
        missing_l=dry - given,
        threshold_l=np.full(len(dry), 40.0),
        rain_l=np.zeros(len(dry)),
        given_l=given,
        use_l=np.full(len(dry), 5.0),
    )


# Twenty missing today, five more a day, watered on the fourth day and the twelfth.
AHEAD = course_of([20, 25, 30, 35, 40, 5, 10, 15, 20, 25, 30, 35, 40, 5, 10], [4, 12])


def points(line):
    return [tuple(map(float, pair.split(","))) for pair in line.split()]


def test_thirty_days_back_end_at_today():
    chart = water_chart(OUTLOOK, AHEAD, TODAY, UnitSystem.METRIC)
    past = points(chart.past_line)
    assert len(past) == 31
    assert past[0][0] == LEFT
    assert past[-1][0] == pytest.approx(chart.today_at, abs=0.1)
    assert points(chart.next_line)[-1][0] == RIGHT


def test_a_full_root_zone_is_at_the_top_and_litres_go_down_in_proportion():
    chart = water_chart(OUTLOOK, AHEAD, TODAY, UnitSystem.METRIC)
    assert chart.missing_ticks[0].at == TOP
    assert chart.missing_ticks[-1].at == BOTTOM
    # The threshold, 0.5 x 80 L, is the largest amount shown and the axis' end.
    assert [tick.label for tick in chart.missing_ticks] == ["0", "10", "20", "30", "40"]
    assert chart.limit_at == BOTTOM
    # 20 L missing today: half way down.
    assert points(chart.next_line)[0][1] == pytest.approx((TOP + BOTTOM) / 2, abs=0.1)


def test_a_watering_day_stands_twice_as_dry_as_it_gets_and_after():
    assert expected_course(OUTLOOK, course_of([20, 5, 9, 8, 3], [2]), TODAY) == [
        (0, 20.0),
        (1, 5.0),
        (2, 9.0),
        (2, 0.0),
        (3, 8.0),
        (4, 3.0),
    ]


def test_days_outside_the_drawing_are_left_out():
    long = course_of(range(30), [], first=-5)
    ahead = expected_course(replace(OUTLOOK, missing_l=5.0), long, TODAY)
    assert ahead[0] == (0, 5.0)
    assert ahead[-1] == (14, 19.0)


def test_a_watering_due_today_falls_from_where_the_tree_stands():
    ahead = expected_course(OUTLOOK, course_of([20, 4], [0]), TODAY)
    assert ahead == [(0, 20.0), (0, 0.0), (1, 4.0)]


def test_gallons_have_round_numbers_of_their_own():
    chart = water_chart(OUTLOOK, AHEAD, TODAY, UnitSystem.US)
    assert chart.unit == "gal"
    # 40 L are 10.6 US gal.
    assert [tick.label for tick in chart.missing_ticks] == ["0", "5", "10", "15"]


def test_the_table_holds_what_is_drawn_and_says_what_is_only_likely():
    chart = water_chart(OUTLOOK, AHEAD, TODAY, UnitSystem.METRIC)
    # Fourteen days ahead, two of them with a watering.
    assert len(chart.rows) == 31 + 14 + 2
    today = [row for row in chart.rows if row.day == TODAY]
    assert [(row.missing, row.is_likely) for row in today] == [("19.0", False)]
    assert all(row.is_likely == (row.day > TODAY) for row in chart.rows)


def test_no_history_gives_no_drawing():
    bare = replace(OUTLOOK, history_days=(), history_missing_l=())
    assert water_chart(bare, AHEAD, TODAY, UnitSystem.METRIC) is None


@given(
    st.lists(st.floats(0, 500), min_size=1, max_size=31),
    st.lists(st.floats(0, 500), min_size=1, max_size=20),
    st.integers(0, 19),
)
def test_nothing_leaves_the_frame(history, missing_l, watered_on):
    outlook = replace(
        OUTLOOK,
        store_l=500.0,
        missing_l=history[-1],
        history_days=tuple(
            TODAY - timedelta(days=len(history) - 1 - i) for i in range(len(history))
        ),
        history_missing_l=tuple(history),
    )
    watering = [watered_on] if watered_on < len(missing_l) else []
    ahead = course_of(missing_l, watering)
    chart = water_chart(outlook, ahead, TODAY, UnitSystem.METRIC)
    for x, y in points(chart.past_line) + points(chart.next_line):
        assert LEFT - 0.1 <= x <= RIGHT + 0.1
        assert TOP - 0.1 <= y <= BOTTOM + 0.1
