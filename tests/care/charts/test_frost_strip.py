"""The drawing of frosts by week: bars, spans of chances, labels inside the frame."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, strategies as st

from care.charts.frost_strip import BARS_HEIGHT, LEFT, RIGHT, WIDTH, frost_strip
from care.facts import MonthDay
from care.planning.frost_outlook import frost_outlook
from care.planning.frost_weeks import frost_weeks
from tests.care.planning.test_frost_outlook import BARE, SOUTH, TODAY, record
from tests.care.planning.test_winter import WHOLE

NEW_YEAR = date(2016, 1, 1)


def strip_of(series, site, today, bound=1):
    dates = frost_outlook(series, site, today).dates[bound]
    return frost_strip(frost_weeks(series, site, today, dates), dates, today)


def test_ten_years_show_three_chances_one_inside_another():
    strip = strip_of(record(), BARE, TODAY)
    assert [span.name for span in strip.spans] == ["1 in 10", "half", "9 in 10"]
    # Worked: P10 289.92 and 110.21, P50 301.7 and 99.1, on the safe side; see
    # tests/care/science/test_frost_dates.py
    assert [(s.first_words, s.last_words) for s in strip.spans[:2]] == [
        ("16 Oct", "21 Apr"),
        ("28 Oct", "10 Apr"),
    ]
    firsts = [span.first_at for span in strip.spans]
    lasts = [span.last_at for span in strip.spans]
    assert firsts == sorted(firsts)
    assert lasts == sorted(lasts, reverse=True)


def test_few_years_show_what_was_seen():
    strip = strip_of(WHOLE, BARE, NEW_YEAR)
    # seattle_years.csv: the earliest first frost is 10 November, the latest last one
    # 19 March, both of 2012.
    (span,) = strip.spans
    assert (span.name, span.first_words, span.last_words) == (
        "seen",
        "10 Nov",
        "19 Mar",
    )
    assert strip.years == 4


def test_bars_are_as_high_as_their_share_and_stand_in_their_week():
    strip = strip_of(WHOLE, BARE, NEW_YEAR)
    highest = max(strip.bars, key=lambda bar: bar.height)
    assert highest.height == pytest.approx(BARS_HEIGHT)
    assert highest.y + highest.height == pytest.approx(strip.bottom, abs=0.1)
    assert len(strip.rows) == len(strip.bars)
    assert (
        strip.rows[0].start <= date(2015, 11, 10) < strip.rows[0].start + timedelta(7)
    )
    assert strip.rows[0].share in {"25%", "33%"}
    assert [tick.label for tick in strip.share_ticks] == ["0%", "50%", "100%"]


def test_today_is_marked_and_the_south_has_its_own_year():
    strip = strip_of(record(southern=True), SOUTH, date(2012, 3, 1))
    assert strip.today_at == pytest.approx(LEFT + 60 / 364 * (RIGHT - LEFT), abs=0.1)
    assert strip.month_ticks[0].label == "Jan"
    assert len(strip.spans) == 3


def test_labels_at_the_edge_stand_inside_their_span():
    dates = frost_outlook(record(), BARE, TODAY).freeze
    early = replace(
        dates.safe, first_autumn=MonthDay(7, 5), last_spring=MonthDay(6, 20)
    )
    dates = replace(dates, safe=early)
    span = frost_strip(frost_weeks(record(), BARE, TODAY, dates), dates, TODAY).spans[0]
    assert span.is_first_inside
    assert span.is_last_inside
    assert span.first_label_at > span.first_at
    assert span.last_label_at < span.last_at


def test_a_chance_that_does_not_come_is_not_drawn():
    dates = frost_outlook(record(), BARE, TODAY).freeze
    rare = replace(dates, sure=replace(dates.sure, first_autumn=None))
    strip = frost_strip(frost_weeks(record(), BARE, TODAY, rare), rare, TODAY)
    assert [span.name for span in strip.spans] == ["1 in 10", "half"]
    assert strip.top < strip.bottom < strip.height


@given(st.dates(date(2012, 1, 1), date(2015, 12, 31)), st.integers(0, 2))
def test_nothing_leaves_the_frame(today, bound):
    strip = strip_of(WHOLE, BARE, today, bound)
    for bar in strip.bars:
        assert LEFT - 0.1 <= bar.x <= bar.x + bar.width <= RIGHT + 0.1
        assert strip.top - 0.1 <= bar.y <= strip.bottom
    for span in strip.spans:
        assert LEFT <= span.first_at <= RIGHT + 1
        assert LEFT <= span.last_at <= RIGHT + 1
    assert LEFT <= strip.today_at <= RIGHT + 2 < WIDTH
