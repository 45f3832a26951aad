"""One tree's water day by day: what was folded, and what comes if all is watered."""

from datetime import date, timedelta

import numpy as np
import pytest

from care.planning.simulate import simulate_water, water_course
from tests.care.planning.water_cases import (
    SITE,
    new_apple,
    normals,
    old_apple,
    pot,
    watered,
    weather,
)

JULY = date(2014, 7, 10)


def outlook_of(tree, *, work=(), series=None):
    series = series or weather(JULY)
    return simulate_water(SITE, [tree], series, work, [], JULY)[tree.id]


def course_of(tree, *, work=(), series=None, **span):
    return water_course(
        SITE,
        [old_apple(id=99), tree],
        series or weather(JULY),
        work,
        observations=[],
        today=JULY,
        tree_id=tree.id,
        **span,
    )


def test_a_course_ends_in_the_outlook():
    tree = pot()
    work = [watered(tree, JULY - timedelta(days=1), 30.0)]
    water, course = outlook_of(tree, work=work), course_of(tree, work=work)
    assert course.days[0] == JULY - timedelta(days=30)
    assert course.days[-1] == JULY + timedelta(days=14)
    now = course.days.index(JULY)
    assert course.missing_l[now] == pytest.approx(water.missing_l)
    assert course.threshold_l[now] == pytest.approx(water.depletion_p * water.store_l)
    assert course.given_l[now - 1] == pytest.approx(0.85 * 30.0)
    assert course.use_l[now] == pytest.approx(water.use_l)
    assert water.history_days[-1] == JULY
    assert len(water.history_missing_l) == 31
    assert course.missing_l[: now + 1] == pytest.approx(water.history_missing_l)


@pytest.mark.parametrize("tree", [old_apple(), new_apple(), pot()])
def test_the_days_ahead_are_watered_as_the_outlook_says(tree):
    work = [watered(tree, JULY - timedelta(days=1))]
    water, course = outlook_of(tree, work=work), course_of(tree, work=work, back_days=0)
    planned = {water.due_in_days: water.water_net_l} | dict(
        zip(water.later_in_days, water.later_net_l, strict=True)
    )
    inside = {day: litres for day, litres in planned.items() if day and day <= 14}
    poured = {day: course.given_l[day] for day in np.flatnonzero(course.given_l)}
    for day, litres in inside.items():
        assert poured[day] == pytest.approx(litres)
        assert course.missing_l[day] == pytest.approx(0, abs=1e-6)
    # Never drier than it may get: a watering comes on the day that would pass it.
    assert (course.dry_l[1:] <= course.threshold_l[1:] + course.use_l[1:] + 1e-6).all()


def test_a_course_stops_with_the_weather_and_with_the_span():
    short = weather(JULY, days_ahead=9)
    assert course_of(pot(), series=short).days[-1] == JULY + timedelta(days=8)
    assert course_of(pot(), ahead_days=3).days[-1] == JULY + timedelta(days=3)
    usual = course_of(old_apple(), series=normals(JULY))
    assert usual.days[-1] == JULY + timedelta(days=14)


def test_a_member_of_a_clump_gets_its_share():
    pair = [old_apple(id=4, clump_id=7), old_apple(id=5, clump_id=7)]
    of_one = water_course(
        SITE, pair, weather(JULY), [], observations=[], today=JULY, tree_id=4
    )
    alone = course_of(old_apple(id=4))
    assert 2 * of_one.missing_l == pytest.approx(alone.missing_l)


def test_no_course_of_a_tree_that_is_not_there():
    gone = water_course(
        SITE, [pot()], weather(JULY), [], observations=[], today=JULY, tree_id=99
    )
    assert gone is None
