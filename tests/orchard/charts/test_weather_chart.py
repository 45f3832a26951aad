"""The drawing of the days: round numbers, gaps that stay gaps, three kinds told apart."""

from datetime import date, timedelta
from itertools import pairwise

import pytest
from django.utils import translation
from hypothesis import given, strategies as st

from orchard.charts.weather_chart import (
    AIR_BOTTOM,
    AIR_TOP,
    LEFT,
    RAIN_BOTTOM,
    RAIN_TOP,
    RIGHT,
    ChartDay,
    Sureness,
    round_step,
    weather_chart,
)
from orchard.units import UnitSystem

TODAY = date(2025, 7, 2)  # a Wednesday
METRIC, US = UnitSystem.METRIC, UnitSystem.US


def day(ahead, low=10.0, high=20.0, rain=0.0, kind=Sureness.MEASURED):
    return ChartDay(TODAY + timedelta(days=ahead), low, high, rain, kind, kind)


def drawn(days, units=METRIC):
    found = weather_chart(days, TODAY, units)
    assert found is not None
    return found


def week(**values):
    return [day(ahead, **values) for ahead in range(-14, 8)]


def test_a_day_reaches_from_its_low_to_its_high_on_an_axis_of_round_numbers():
    found = drawn([*week()[:-1], day(7, 5.0, 30.0)])
    assert [tick.label for tick in found.air_ticks] == [
        "5", "10", "15", "20", "25", "30",
    ]  # fmt: skip
    bar = found.air_bars[-1]
    assert (bar.y, bar.y + bar.height) == (AIR_TOP, AIR_BOTTOM)
    assert found.air_unit == "°C"


def test_the_axes_speak_the_readers_units():
    found = drawn(week(rain=25.4), US)
    assert (found.air_unit, found.rain_unit) == ("°F", "in")
    assert [tick.label for tick in found.rain_ticks] == ["0", "0.5", "1"]
    assert found.air_ticks[0].label == "50"


def test_unknown_rain_of_a_past_day_is_marked_and_never_drawn_as_none():
    days = week()
    days[3] = day(-11, rain=None)
    days[20] = day(6, rain=None)
    found = drawn(days)
    assert found.unknown_rain == (
        pytest.approx(LEFT + 3.5 * (RIGHT - LEFT) / 22, abs=0.1),
    )
    assert found.rain_bars == ()


def test_a_day_without_temperatures_is_a_gap():
    days = week()
    days[5] = day(-9, low=None, high=None)
    assert len(drawn(days).air_bars) == 21


def test_each_kind_has_its_word_over_its_days():
    kinds = [Sureness.MEASURED] * 14 + [Sureness.LIKELY] * 5 + [Sureness.USUAL] * 3
    days = [day(n - 14, kind=kind) for n, kind in enumerate(kinds)]
    words = drawn(days).words
    assert [word.label for word in words] == ["measured", "likely", "usual"]
    assert words[0].at < words[1].at < words[2].at
    assert {bar.kind for bar in drawn(days).air_bars} == set(kinds)


def test_freezing_is_drawn_where_the_axis_holds_it():
    assert drawn(week()).freezing_at is None
    cold = drawn(week(low=-6.0, high=4.0))
    assert AIR_TOP < cold.freezing_at < AIR_BOTTOM


def test_the_word_for_freezing_keeps_clear_of_the_bars_where_it_can():
    days = week(low=2.0, high=9.0)
    days[:6] = [day(n - 14, low=-5.0, high=3.0) for n in range(6)]
    found = drawn(days)
    last_cold = found.air_bars[5]
    assert found.freezing_word_at > last_cold.x + last_cold.width
    crowded = drawn(week(low=-6.0, high=4.0))
    assert crowded.freezing_word_at == LEFT + 4


def test_todays_line_stands_before_today_and_mondays_are_named():
    found = drawn(week())
    assert found.today_at == pytest.approx(LEFT + 14 * (RIGHT - LEFT) / 22, abs=0.1)
    assert [tick.label for tick in found.day_ticks] == ["23 Jun", "30 Jun", "7 Jul"]


def test_where_nothing_is_known_nothing_is_drawn():
    assert weather_chart(week(low=None, high=None, rain=None), TODAY, METRIC) is None
    only_rain = drawn(week(low=None, high=None, rain=3.0))
    assert only_rain.air_bars == ()
    assert len(only_rain.rain_bars) == 22


@pytest.mark.parametrize(
    ("span", "steps", "step"), [(25, 5, 5), (26, 5, 10), (0.9, 2, 0.5), (1, 5, 0.2)]
)
def test_steps_are_1_2_or_5(span, steps, step):
    assert round_step(span, steps) == pytest.approx(step)


air = st.none() | st.floats(-60, 55)


@given(st.lists(st.tuples(air, air, st.none() | st.floats(0, 500)), min_size=1))
def test_every_bar_lies_inside_the_drawing(values):
    days = [
        ChartDay(TODAY + timedelta(days=n), *value, Sureness.LIKELY, Sureness.LIKELY)
        for n, value in enumerate(values)
    ]
    found = weather_chart(days, TODAY, US)
    if found is None:
        assert all(value is None for day in values for value in day)
        return
    for bars, top, bottom in (
        (found.air_bars, AIR_TOP, AIR_BOTTOM),
        (found.rain_bars, RAIN_TOP, RAIN_BOTTOM),
    ):
        for bar in bars:
            assert LEFT <= bar.x <= bar.x + bar.width <= RIGHT + 0.1
            assert top - 2.6 <= bar.y <= bar.y + bar.height <= bottom + 0.1


def test_long_words_of_another_language_never_touch():
    kinds = [Sureness.MEASURED] * 14 + [Sureness.LIKELY] * 5 + [Sureness.USUAL] * 3
    days = [day(place - 14, kind=kind) for place, kind in enumerate(kinds)]
    with translation.override("es"):
        chart = drawn(days)
    assert [word.label for word in chart.words] == ["medido", "probable", "habitual"]
    for one, other in pairwise(chart.words):
        is_beside = one.lift == other.lift
        assert not is_beside or other.at - one.at >= (one.width + other.width) / 2
    assert all(word.at + word.width / 2 <= chart.width for word in chart.words)
