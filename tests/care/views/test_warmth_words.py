"""The warmth of the year in words, in either unit."""

from datetime import date

import pytest

from care.planning.warmth import YearsWarmth
from care.views.days import DASH
from care.views.warmth_words import warmth_words
from orchard.units import UnitSystem

TODAY = date(2015, 7, 1)
SINCE = date(2015, 1, 1)
METRIC, US = UnitSystem.METRIC, UnitSystem.US


def plain(words):
    return words.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("warmth", "units", "words"),
    [
        (None, METRIC, "The year has just begun."),
        (
            YearsWarmth(SINCE, None, ()),
            METRIC,
            "Unknown: too few days since 1 January are known.",
        ),
        (
            YearsWarmth(SINCE, 1203.0, ()),
            METRIC,
            "1,200 degree days above 10 °C since 1 January.",
        ),
        # 1.8 degF d to the degC d
        (
            YearsWarmth(SINCE, 500.0, (400.0, 600.0)),
            US,
            f"900 degree days above 50 °F since 1 January; 720{DASH}1,080 by this day "
            "in the 2 earlier years on record.",
        ),
        (
            YearsWarmth(SINCE, 500.0, (400.0,)),
            METRIC,
            "500 degree days above 10 °C since 1 January; 400 by this day in the one "
            "earlier year on record.",
        ),
    ],
)
def test_warmth_is_told_beside_other_years(warmth, units, words):
    assert plain(warmth_words(warmth, TODAY, units)) == words
