"""Watering and feeding that wait for rain, and nothing else that waits."""

from datetime import date, timedelta

import pytest

from care.models import Task
from care.views.rain_waits import Waits, rain_waits, waits_words

TODAY = date(2025, 6, 18)  # a Wednesday
DAY = timedelta(days=1)
RAIN = {TODAY: 14.0}
#: Ten litres may go before water is due, and nine are gone: due today but for rain.
THIRSTY = {"missing_l": 9.9, "threshold_l": 10.0, "litres_per_day": 4.0}


def task(days, action="water", **facts):
    due = TODAY + days * DAY
    kind = "watering" if action == "water" else "feeding"
    reason = {"code": "", "facts": [[name, value] for name, value in facts.items()]}
    return Task(
        kind=kind, action=action, earliest=due, due=due, latest=due, reason=reason
    )


def waits(*tasks, rain=None):
    return rain_waits(tasks, TODAY, RAIN if rain is None else rain)


def test_a_watering_that_would_be_due_but_for_the_rain_waits():
    assert waits(task(4, **THIRSTY)) == Waits(1, TODAY + 4 * DAY)


def test_the_plans_own_word_is_enough():
    assert waits(task(1, rain_wait_on="2025-06-19")).waterings == 1


@pytest.mark.parametrize(
    ("days", "changes", "rain"),
    [
        (0, {}, None),  # due all the same
        (4, {"missing_l": 0.0}, None),  # not due for days, rain or no rain
        (4, {}, {TODAY: 2.9}),
        (4, {}, {TODAY + 3 * DAY: 30.0}),  # too late to do today's work
        (4, {"postponed_by": "carrying"}, None),
        (4, {"litres_per_day": 0.0}, None),
        (4, {"missing_l": None}, None),
    ],
)
def test_what_waits_for_something_else_is_not_counted(days, changes, rain):
    assert waits(task(days, **{**THIRSTY, **changes}), rain=rain) == Waits()


def test_feed_put_off_by_rain_is_counted_apart():
    put_off = task(2, "feed", postponed_by="rain")
    later = task(2, "feed", postponed_by="cold")
    assert waits(put_off, later) == Waits(0, None, 1, TODAY + 2 * DAY)


def test_it_is_said_until_the_first_day_of_each():
    found = waits(
        task(4, **THIRSTY), task(2, **THIRSTY), task(2, "feed", postponed_by="rain")
    )
    assert waits_words(found, TODAY) == (
        "watering of 2 trees waits till Friday, feeding of 1 tree waits till Friday"
    )
    assert waits_words(Waits(), TODAY) == ""
