"""The drawing of a tree's water: places, axes, table."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, strategies as st

from care.charts.water_chart import (
    BOTTOM,
    LEFT,
    RIGHT,
    TOP,
    expected_course,
    round_step,
    water_chart,
)
from care.facts import WaterOutlook
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


def points(line):
    return [tuple(map(float, pair.split(","))) for pair in line.split()]


@pytest.mark.parametrize(
    ("largest", "step"),
    [(1.0, 0.2), (9.9, 2.0), (16.0, 5.0), (40.0, 10.0), (80.0, 20.0), (0.3, 0.1)],
)
def test_steps_are_round(largest, step):
    assert round_step(largest) == pytest.approx(step)


@given(st.floats(1e-3, 1e5))
def test_at_most_five_steps_reach_any_amount(largest):
    step = round_step(largest)
    assert largest <= 5 * step * (1 + 1e-6)
    assert step <= largest  # and never so large that one step says nothing


def test_thirty_days_back_end_at_today():
    chart = water_chart(OUTLOOK, TODAY, UnitSystem.METRIC)
    past = points(chart.past_line)
    assert len(past) == 31
    assert past[0][0] == LEFT
    assert past[-1][0] == pytest.approx(chart.today_at, abs=0.1)
    assert points(chart.next_line)[-1][0] == RIGHT


def test_a_full_root_zone_is_at_the_top_and_litres_go_down_in_proportion():
    chart = water_chart(OUTLOOK, TODAY, UnitSystem.METRIC)
    assert chart.missing_ticks[0].at == TOP
    assert chart.missing_ticks[-1].at == BOTTOM
    # The threshold, 0.5 x 80 L, is the largest amount shown and the axis' end.
    assert [tick.label for tick in chart.missing_ticks] == ["0", "10", "20", "30", "40"]
    assert chart.limit_at == BOTTOM
    # 20 L missing today: half way down.
    assert points(chart.next_line)[0][1] == pytest.approx((TOP + BOTTOM) / 2, abs=0.1)


def test_the_course_falls_to_each_watering_and_starts_full_again():
    assert expected_course(OUTLOOK) == [
        (0.0, 20.0),
        (4.0, 40.0),
        (4.0, 0.0),
        (12.0, 40.0),
        (12.0, 0.0),
        (14.0, 10.0),
    ]


def test_towards_a_watering_beyond_the_drawing_the_line_stays_straight():
    distant = replace(OUTLOOK, due_in_days=20, later_in_days=(), later_net_l=())
    assert expected_course(distant) == [(0.0, 20.0), (14.0, 34.0)]


def test_without_a_watering_in_sight_the_line_stops_at_an_empty_store():
    dry = replace(OUTLOOK, due_in_days=None, missing_l=70.0)
    assert expected_course(dry) == [(0.0, 70.0), (14.0, 80.0)]


def test_gallons_have_round_numbers_of_their_own():
    chart = water_chart(OUTLOOK, TODAY, UnitSystem.US)
    assert chart.unit == "gal"
    # 40 L are 10.6 US gal.
    assert [tick.label for tick in chart.missing_ticks] == ["0", "5", "10", "15"]


def test_the_table_holds_what_is_drawn_and_says_what_is_only_likely():
    chart = water_chart(OUTLOOK, TODAY, UnitSystem.METRIC)
    assert len(chart.rows) == 31 + 5
    today = [row for row in chart.rows if row.day == TODAY]
    assert [(row.missing, row.is_likely) for row in today] == [("19.0", False)]
    assert all(row.is_likely == (row.day > TODAY) for row in chart.rows)


def test_no_history_gives_no_drawing():
    bare = replace(OUTLOOK, history_days=(), history_missing_l=())
    assert water_chart(bare, TODAY, UnitSystem.METRIC) is None


@given(
    st.lists(st.floats(0, 500), min_size=1, max_size=31),
    st.floats(0, 500),
    st.one_of(st.none(), st.integers(0, 60)),
)
def test_nothing_leaves_the_frame(history, missing_l, due):
    outlook = replace(
        OUTLOOK,
        store_l=500.0,
        missing_l=missing_l,
        water_net_l=min(missing_l + 5, 500.0),
        due_in_days=due,
        later_in_days=(),
        later_net_l=(),
        history_days=tuple(
            TODAY - timedelta(days=len(history) - 1 - i) for i in range(len(history))
        ),
        history_missing_l=tuple(history),
    )
    chart = water_chart(outlook, TODAY, UnitSystem.METRIC)
    for x, y in points(chart.past_line) + points(chart.next_line):
        assert LEFT - 0.1 <= x <= RIGHT + 0.1
        assert TOP - 0.1 <= y <= BOTTOM + 0.1
