"""A site's frosts in words: what plans go by, chances, zones, nights ahead."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from care.facts import MonthDay, WeatherSeries
from care.planning.frost_outlook import (
    freeze_notices,
    frost_outlook,
    with_record_dates,
)
from care.views.days import DASH
from care.views.frost_words import (
    chances_words,
    dates_words,
    frost_rows,
    frost_section,
    heat_words,
    zone_words,
)
from orchard.units import UnitSystem
from tests.care.planning.test_frost_outlook import BARE, SEATTLE, record

METRIC, TODAY = UnitSystem.METRIC, date(2012, 1, 1)
NOW = date(2016, 1, 1)


def seattle(days=None):
    end = days or len(SEATTLE.tmin_c)
    return WeatherSeries(
        SEATTLE.start,
        SEATTLE.tmin_c[:end],
        SEATTLE.tmax_c[:end],
        SEATTLE.rain_mm[:end],
        "o" * end,
    )


def words_of(site, series=None, today=TODAY):
    series = series or record()
    known = with_record_dates(site, series, today)
    outlook = frost_outlook(series, site, today)
    return f"{dates_words(known, outlook)} {chances_words(known, outlook)}"


def test_ten_years_tell_usual_and_safe_dates():
    words = words_of(BARE)
    for part in ("10 years", "10 April", "28 October", "21 April", "16 October"):
        assert part in words


def test_plans_that_go_by_fewer_years_than_the_drawing_say_so():
    known = with_record_dates(BARE, record(), TODAY)
    longer = frost_outlook(record(years=14, frosts=False), BARE, date(2015, 1, 1))
    words = chances_words(known, longer)
    assert words.startswith(
        "Plans go by the latest 10 years, what is drawn by all on record. One"
    )
    assert "drawn" not in words_of(BARE)


def test_typed_dates_and_a_frost_free_entry_stand():
    typed = replace(BARE, last_frost=MonthDay(5, 1))
    few = seattle()
    assert f"typed: last frost 1 May, first {DASH}." in words_of(typed, few, NOW)
    assert "as it was entered" in words_of(replace(BARE, is_frost_free=True))
    half = words_of(typed)
    assert "1 May" in half
    assert "planted" not in half
    other = words_of(replace(BARE, first_frost=MonthDay(9, 9)))
    assert "9 September" in other
    assert "feeding stops" not in other


def test_few_years_tell_extremes_only():
    words = words_of(BARE, seattle(), NOW)
    # Seattle 2012-2015, as in the tests of the outlook
    assert "In 4 whole years on record the latest of spring was 19 March" in words
    assert "the earliest of autumn was 10 November; chances need 10 years." in words
    one = words_of(BARE, seattle(366), date(2013, 1, 1))
    assert "In 1 whole year on record" in one
    spring_only = words_of(BARE, seattle(150), date(2012, 6, 1))
    assert "19 March; chances" in spring_only


def test_a_record_without_frost():
    assert "No frost in 10 years of record" in words_of(BARE, record(frosts=False))
    short = record(frosts=False, years=3)
    assert "too short to tell" in words_of(BARE, short, date(2004, 1, 1))


def test_the_table_needs_ten_years_and_dashes_what_does_not_come():
    rows = frost_rows(frost_outlook(record(), BARE, TODAY), METRIC)
    assert [row.name for row in rows] == [
        "Frost, 2.2 °C",
        "Freeze, 0 °C",
        "Hard freeze, -2.2 °C",
    ]
    freeze, hard = rows[1], rows[2]
    assert (freeze.last_usual, freeze.last_safe) == ("10 April", "21 April")
    assert (freeze.first_safe, freeze.first_usual) == ("16 October", "28 October")
    assert freeze.season == "202"
    assert {hard.last_usual, hard.first_safe, hard.season} == {DASH}
    assert frost_rows(frost_outlook(seattle(), BARE, NOW), METRIC) == ()


def test_a_short_record_makes_an_indicative_zone():
    outlook = frost_outlook(seattle(), BARE, NOW)
    words = zone_words(outlook, METRIC)
    assert "of 3 winters" in words
    assert "A short record: the map uses 30 winters" in words
    assert words.endswith("never the coldest night to expect.")
    assert heat_words(outlook, METRIC) == (
        "13 days a year above 30 °C in 4 years: heat zone 3 of 12."
    )
    long = frost_outlook(record(years=31, frosts=False), BARE, date(2032, 1, 1))
    assert "short record" not in zone_words(long, METRIC)
    one = frost_outlook(seattle(560), BARE, date(2013, 7, 14))
    assert "of 1 winter (" in zone_words(one, METRIC)
    assert "in 1 year:" in heat_words(one, METRIC)
    nothing = frost_outlook(seattle(100), BARE, date(2012, 4, 10))
    assert zone_words(nothing, METRIC).startswith("Unknown")
    assert heat_words(nothing, METRIC).startswith("Unknown")


@pytest.mark.parametrize(
    ("minimum_c", "words"),
    [
        (
            -3.0,
            "Tomorrow: -3 °C, hard freeze; a weather service would likely warn of it.",
        ),
        (-1.0, "Tomorrow: -1 °C, freeze; a weather service would likely warn of it."),
        (1.0, "Tomorrow: 1 °C, frost; a weather service would likely advise of it."),
    ],
)
def test_nights_ahead_in_one_line(minimum_c, words):
    lows = np.array([9.0, minimum_c])
    series = WeatherSeries(NOW, lows, lows + 9, np.zeros(2), "ff")
    told = frost_section(
        BARE,
        frost_outlook(series, BARE, NOW),
        freeze_notices(series, BARE, NOW),
        NOW,
        METRIC,
    )
    assert told.notices == (words,)


def test_a_far_night_has_no_notice():
    lows = np.array([9.0, 9.0, 9.0, -1.0])
    series = WeatherSeries(NOW, lows, lows + 9, np.zeros(4), "ffff")
    (told,) = frost_section(
        BARE,
        frost_outlook(series, BARE, NOW),
        freeze_notices(series, BARE, NOW),
        NOW,
        METRIC,
    ).notices
    assert told.endswith("-1 °C, freeze.")
