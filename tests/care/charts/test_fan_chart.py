"""The drawing of a season against past ones: places, lines, labels, table."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, strategies as st

from care.charts.fan_chart import (
    BOTTOM,
    LEFT,
    MOST_POINTS,
    RIGHT,
    TOP,
    Measure,
    Need,
    fan_chart,
    season_name,
)
from care.planning.ensemble import Fan, Members
from care.planning.past_seasons import PastSeasons, season_fan

START, DAYS = date(2014, 11, 1), 151
HOURS = Measure("hours of chill")
NO_MADE = np.zeros((0, DAYS))


def straight(per_day, days=DAYS):
    """Return a running sum of so much a day."""
    return per_day * np.arange(1.0, days + 1)


def past_of(*per_day):
    starts = tuple(date(2013 - n, 11, 1) for n in range(len(per_day)))
    sums = np.array([straight(each) for each in per_day]).reshape(len(per_day), DAYS)
    return PastSeasons(starts, sums)


def fan_after(gone, past, per_day=10.0):
    firm = START + timedelta(days=gone - 1)
    return season_fan(START, straight(per_day, gone), past, NO_MADE, firm)


def drawn(gone, past, measure=HOURS, needs=()):
    """Return the drawing of a season so many days old."""
    today = START + timedelta(days=gone)
    return fan_chart(fan_after(gone, past), past, measure, today, needs)


def places(line):
    return [tuple(map(float, pair.split(","))) for pair in line.split()]


FEW, MANY = past_of(8.0, 12.0), past_of(*np.linspace(6, 14, 11))


def test_few_winters_are_lines_with_their_names():
    chart = drawn(30, FEW)
    assert len(chart.past_lines) == 2
    assert chart.past_band == ""
    # 2013-14 brings 8 hours a day, 2012-13 12; the likely middle is the lower of two.
    assert [label.words for label in chart.labels] == [
        "likely",
        "2013\N{EN DASH}14",
        "2012\N{EN DASH}13",
    ]
    assert {label.kind for label in chart.labels} == {"accent", "soft"}
    assert chart.heads == ("Least of past years", "Middle", "Most")


def test_many_winters_are_what_eight_of_ten_keep_to():
    chart = drawn(30, MANY)
    assert chart.past_lines == ()
    end = [y for x, y in places(chart.past_band) if x == RIGHT]
    # 6 to 14 hours a day in steps of 0.8: of eleven the second and the tenth.
    per_hour = (BOTTOM - TOP) / 2000
    assert sorted(end) == pytest.approx(
        [BOTTOM - 13.2 * DAYS * per_hour, BOTTOM - 6.8 * DAYS * per_hour], abs=0.1
    )
    assert [label.words for label in chart.labels[1:]] == ["low", "usual", "high"]


def test_what_was_observed_is_bold_and_what_is_likely_goes_on_from_there():
    chart = drawn(30, FEW)
    firm, likely = places(chart.firm_line), places(chart.likely_line)
    assert firm[0] == (LEFT, BOTTOM)
    assert firm[-1] == likely[0]
    assert likely[-1][0] == RIGHT
    assert chart.today_at == firm[-1][0]
    low, high = (places(edge)[-1][1] for edge in chart.likely_edges)
    assert low > high  # farther down is less


def test_a_season_that_is_over_has_nothing_likely():
    chart = drawn(DAYS, FEW)
    assert chart.likely_line == ""
    assert chart.likely_edges == ()
    assert chart.today_at is None
    assert chart.labels[0].words == "this one"
    assert {row.sure for row in chart.rows} == {"observed"}


def test_nothing_observed_is_likely_from_the_first_day():
    fan = season_fan(START, straight(10.0, 30), FEW, NO_MADE, START - timedelta(days=9))
    chart = fan_chart(fan, FEW, HOURS, START + timedelta(days=30))
    assert chart.firm_line == ""
    assert places(chart.likely_line)[0] == (LEFT, BOTTOM)
    assert chart.today_at is not None
    assert {row.sure for row in chart.rows} == {"likely"}


def test_what_is_firm_from_today_on_was_forecast():
    today = START + timedelta(days=25)
    rows = fan_chart(fan_after(30, FEW), FEW, HOURS, today).rows
    assert {row.day: row.sure for row in rows if row.day.month == 11} == {
        date(2014, 11, 1): "observed",
        date(2014, 11, 16): "observed",
        date(2014, 11, 25): "observed",
        date(2014, 11, 30): "forecast",
    }


def test_one_past_year_gives_one_line_and_no_span():
    one = past_of(8.0)
    chart = drawn(30, one)
    assert len(chart.past_lines) == 1
    assert chart.likely_edges == ()
    assert chart.heads == ("2013\N{EN DASH}14",)
    assert all(len(row.past) == 1 for row in chart.rows)


def test_without_past_years_the_season_stands_alone():
    none = PastSeasons((), np.zeros((0, DAYS)))
    chart = drawn(30, none)
    assert chart.past_lines == ()
    assert chart.heads == ()
    assert places(chart.firm_line)[-1][0] < RIGHT
    assert chart.labels == ()  # it ends in the middle of the drawing


def test_needs_are_lines_and_near_ones_share_a_name():
    needs = [
        Need("Fig, least", 100), Need("Apple, least", 250), Need("Apple, most", 1000),
        Need("Cherry, most", 1450), Need("Larch", 9000),
    ]  # fmt: skip
    chart = drawn(30, FEW, needs=needs)
    assert [line.words for line in chart.needs] == [
        "Cherry, most: 1,450",
        "Apple, most: 1,000",
        "2 needs: 100\N{EN DASH}250",
    ]
    # The season's middle ends at 300 + 8 x 121 = 1,268 hours.
    assert [line.is_right for line in chart.needs] == [False, False, True]
    assert chart.needs[1].at == pytest.approx(BOTTOM - (BOTTOM - TOP) / 2, abs=0.1)
    assert chart.left_out == ("Larch",)


def test_a_long_name_of_needs_gives_way_to_their_number():
    needs = [Need("A species with a very long name, least", 200), Need("Plum", 190)]
    chart = drawn(30, FEW, needs=needs)
    assert [line.words for line in chart.needs] == ["2 needs: 190\N{EN DASH}200"]
    alone = drawn(30, FEW, needs=needs[:1])
    assert [line.words for line in alone.needs] == ["200"]


def test_a_need_just_above_everything_drawn_stretches_the_axis():
    chart = drawn(30, FEW, needs=[Need("Cherry", 2040)])
    assert chart.value_ticks[-1].label == "2,500"
    assert chart.left_out == ()


def test_the_table_holds_half_months_and_the_day_it_turns():
    rows = {row.day: row for row in drawn(40, FEW).rows}
    assert list(rows)[:4] == [
        date(2014, 11, 1), date(2014, 11, 16), date(2014, 12, 1), date(2014, 12, 10),
    ]  # fmt: skip
    assert rows[date(2014, 12, 10)].now == "400"
    assert rows[date(2014, 12, 10)].sure == "observed"
    assert rows[date(2014, 12, 10)].past == ("320", "400", "480")
    last = rows[date(2015, 3, 31)]
    assert last.sure == "likely"
    # 400 so far and 111 days of 8 or 12 hours
    assert last.now == "1,290 (1,290\N{EN DASH}1,730)"


def test_inches_have_a_decimal_and_round_numbers_of_their_own():
    inches = Measure("in of rain", 1 / 25.4, 0.1)
    chart = drawn(30, FEW, inches)
    assert chart.value_ticks[-1].label == "80"  # 12 mm on each of 151 days are 71.3 in
    assert chart.rows[0].now == "0.4"


def test_the_generators_range_is_drawn_as_it_is_told():
    members = Members(count=30, past_years=0, generated=30)
    low, middle, high = straight(8.0), straight(10.0), straight(13.0)
    fan = Fan(START, low, middle, high, START - timedelta(days=1), members)
    none = PastSeasons((), np.zeros((0, DAYS)))
    chart = fan_chart(fan, none, HOURS, START)
    assert len(chart.likely_edges) == 2
    assert chart.rows[-1].now == "1,510 (1,210\N{EN DASH}1,960)"


def test_seasons_are_named_by_the_years_they_touch():
    assert season_name(date(2013, 11, 1), 151) == "2013\N{EN DASH}14"
    assert season_name(date(1999, 11, 1), 151) == "1999\N{EN DASH}00"
    assert season_name(date(2014, 5, 1), 153) == "2014"


@given(
    st.integers(1, 365),
    st.lists(st.floats(0, 50), max_size=14),
    st.integers(0, 365),
    st.floats(0, 50),
)
def test_nothing_leaves_the_frame(days, per_day, gone, now):
    gone = min(gone, days)
    past = PastSeasons(
        tuple(date(2013 - n, 1, 1) for n in range(len(per_day))),
        np.array([straight(each, days) for each in per_day]).reshape(-1, days),
    )
    start = date(2014, 1, 1)
    firm = start + timedelta(days=gone - 1)
    fan = season_fan(start, straight(now, gone), past, np.zeros((0, days)), firm)
    chart = fan_chart(fan, past, HOURS, start + timedelta(days=gone))
    lines = [chart.past_band, *chart.past_lines, chart.firm_line, chart.likely_line]
    for line in [*lines, *chart.likely_edges]:
        assert len(line.split()) <= 2 * (MOST_POINTS + 2)
        for x, y in places(line):
            assert LEFT - 0.1 <= x <= RIGHT + 0.1
            assert TOP - 0.1 <= y <= BOTTOM + 0.1
    assert all(TOP - 0.1 <= label.at <= BOTTOM + 0.1 for label in chart.labels)
