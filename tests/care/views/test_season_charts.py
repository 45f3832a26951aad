"""The captions of the season's drawings name only what is drawn."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from care.planning.ensemble import Fan, Members
from care.planning.frost_outlook import frost_outlook
from care.planning.past_seasons import PastSeasons
from care.planning.rain_year import rain_year
from care.views.season_charts import (
    chill_figure,
    frost_figures,
    rain_figure,
    warmth_figure,
)
from orchard.units import UnitSystem
from tests.care.planning.test_frost_outlook import BARE, TODAY as NEW_YEAR_2012, record
from tests.care.planning.test_rain_lately import RECORD
from tests.care.planning.test_rain_year import even
from tests.care.planning.test_winter import WHOLE

START, DAYS = date(2014, 11, 1), 151
TODAY = date(2014, 12, 1)
METRIC, US = UnitSystem.METRIC, UnitSystem.US


def past_of(count):
    sums = np.cumsum(np.full((count, DAYS), 10.0), axis=1)
    return PastSeasons(tuple(date(2013 - n, 11, 1) for n in range(count)), sums)


def fan_of(members, *, observed=30):
    """A season of ten hours a day, observed for so many days."""
    sums = np.cumsum(np.full(DAYS, 10.0))
    firm = START + timedelta(days=observed - 1)
    return Fan(START, sums, sums, sums, firm, members)


@pytest.mark.parametrize(
    ("fan", "past", "words"),
    [
        (
            fan_of(Members(12, 12, 0)),
            past_of(12),
            "Shaded: 8 of 10 past winters. Bold: observed. Dashed: likely; dotted: 8 of "
            "10 lie between, from 12 past years.",
        ),
        (
            fan_of(Members(2, 2, 0)),
            past_of(2),
            "Thin: the 2 winters before. Bold: observed. Dashed: likely; dotted: the "
            "least and the most, from 2 past years.",
        ),
        (
            fan_of(Members(30, 2, 28)),
            past_of(2),
            "Thin: the 2 winters before. Bold: observed. Dashed: likely; dotted: 8 of 10 "
            "lie between, from 2 past years and 28 generated.",
        ),
        (
            fan_of(Members(1, 1, 0)),
            past_of(1),
            "Thin: the winter before. Bold: observed. Dashed: as it then went on, which "
            "is no more than a hint.",
        ),
        (
            fan_of(Members(0, 0, 0)),
            past_of(0),
            "Bold: observed. Dashed: the usual weather standing in.",
        ),
        (
            fan_of(Members(12, 12, 0), observed=DAYS),
            past_of(12),
            "Shaded: 8 of 10 past winters. Bold: observed.",
        ),
        (
            fan_of(Members(30, 0, 30), observed=0),
            past_of(0),
            "Dashed: likely; dotted: 8 of 10 lie between, from 30 generated years.",
        ),
    ],
)
def test_what_a_caption_names(fan, past, words):
    figure = chill_figure(fan, past, [], TODAY)
    assert figure is not None
    assert figure.caption == words


def test_nothing_observed_and_nothing_to_go_by_is_not_drawn():
    fan = fan_of(Members(0, 0, 0), observed=0)
    assert chill_figure(fan, past_of(0), [], TODAY) is None
    assert warmth_figure(fan, past_of(0), TODAY, METRIC) is None


def test_degree_days_of_fahrenheit_are_eighteen_tenths_as_many():
    fan, past = fan_of(Members(2, 2, 0)), past_of(2)
    metric, us = (warmth_figure(fan, past, TODAY, each) for each in (METRIC, US))
    assert "50" in us.chart.unit
    assert metric.chart.rows[-1].now == "1,510"
    assert us.chart.rows[-1].now == "2,720"


def test_rain_is_told_in_the_readers_unit_and_not_without_a_reading():
    year = rain_year(RECORD, BARE, date(2015, 1, 21))
    metric, us = (rain_figure(year, TODAY, each) for each in (METRIC, US))
    assert (metric.chart.unit, us.chart.unit) == ("mm of rain", "in of rain")
    last = float(metric.chart.rows[-1].past[1].replace(",", ""))
    assert float(us.chart.rows[-1].past[1]) == pytest.approx(last / 25.4, abs=0.1)
    unread = even(unread=[(date(2012, 1, 1), date(2015, 12, 31))])
    nothing = rain_year(unread, BARE, date(2015, 3, 1))
    assert rain_figure(nothing, TODAY, METRIC) is None


def test_frost_is_drawn_for_each_bound_that_was_seen_the_freeze_first():
    found = frost_outlook(record(), BARE, NEW_YEAR_2012)
    figures = frost_figures(found, record(), BARE, NEW_YEAR_2012, METRIC)
    assert [figure.key for figure in figures] == ["freeze", "frost"]
    assert [figure.is_first for figure in figures] == [True, False]
    assert figures[0].caption.endswith("in half of the years, and in 9 of 10.")
    few = frost_figures(
        frost_outlook(WHOLE, BARE, TODAY), WHOLE, BARE, TODAY, UnitSystem.US
    )
    assert few[0].name == "Freeze, 32 °F or colder"
    assert "that was seen" in few[0].caption
    first = replace(WHOLE, origin="o" * 366 + "n" * (len(WHOLE) - 366))
    one = frost_figures(frost_outlook(first, BARE, TODAY), first, BARE, TODAY, METRIC)
    assert one[0].caption.startswith("Bars: the weeks with such a night, of the one")
    none = record(frosts=False)
    assert (
        frost_figures(
            frost_outlook(none, BARE, NEW_YEAR_2012), none, BARE, NEW_YEAR_2012, METRIC
        )
        == []
    )
