"""Feed waits for the end of heavy rain, as long as its window lets it."""

from datetime import timedelta

import numpy as np
import pytest

from care.rules.feeding import propose
from tests.care.rules.cases import minima, morning
from tests.care.rules.test_feeding import SPRING

DAY = timedelta(days=1)


def feed(rain_mm, today=SPRING, origin="f"):
    weather = minima(today, [5.0] * len(rain_mm), origin)
    weather.rain_mm[:] = rain_mm
    return propose(morning(today, weather=weather))[0]


DRY = feed([0.0, 0.0, 0.0])


@pytest.mark.parametrize(
    ("rain_mm", "days"),
    [
        # An inch is heavy; common practice, no source.
        ([12.0, 14.0], 2),
        ([0.0, 30.0], 2),
        ([30.0, 0.0], 1),
    ],
)
def test_a_dose_that_is_due_waits_until_heavy_rain_is_over(rain_mm, days):
    today = DRY.due
    put_off = feed(rain_mm, today)
    assert put_off.earliest == put_off.due == today + days * DAY
    assert put_off.latest == DRY.latest
    assert put_off.reason.fact("postponed_by") == "rain"
    assert put_off.reason.fact("postponed_from") == DRY.due


def test_a_dose_of_a_later_day_may_not_be_pulled_into_the_rain():
    today = DRY.earliest
    held = feed([30.0, 5.0], today)
    assert (held.earliest, held.due) == (today + 2 * DAY, DRY.due)
    assert held.reason.fact("postponed_by") is None


@pytest.mark.parametrize(
    ("rain_mm", "origin"),
    [
        ([12.0, 12.0], "f"),
        ([0.0, 0.0, 60.0], "f"),
        ([np.nan, 20.0], "f"),
        ([40.0, 40.0], "n"),
    ],
)
def test_light_late_unknown_or_usual_rain_changes_nothing(rain_mm, origin):
    same = feed(rain_mm, DRY.due, origin)
    assert (same.earliest, same.due) == (DRY.earliest, DRY.due)


def test_on_its_last_day_it_is_not_put_off_past_its_window():
    last = feed([40.0, 40.0], DRY.latest)
    assert last.reason.fact("postponed_by") is None
    assert "wait_heavy_rain" in last.cautions
