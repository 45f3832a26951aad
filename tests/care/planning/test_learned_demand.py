"""What wet, right, dry and litres until it ran say of a tree's demand, in a plan."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from care.facts import Observation
from care.planning.simulate import simulate_water, water_course
from tests.care.planning.water_cases import (
    SITE,
    new_apple,
    old_apple,
    pot,
    watered,
    weather,
)

JULY = date(2014, 7, 10)
SPRING = date(2014, 5, 1)
DAY = timedelta(days=1)


def outlook_of(tree, today=JULY, *, work=(), seen=()):
    return simulate_water(SITE, [tree], weather(today), work, seen, today, 40)[tree.id]


def learned(water):
    found = dict(water.working)
    return found["demand_factor"], found["demand_answers"]


def felt(tree, on, word):
    return Observation(tree.id, "soil_feel", on, word=word)


def ran(tree, on, litres):
    return Observation(tree.id, "drained_after_l", on, value=litres)


def thirsty_twin(tree, factor):
    """Return the same pot under a crown that drinks ``factor`` times as much."""
    return replace(tree, crown_width_m=tree.crown_width_m * factor**0.5)


def season_of_draining(tree, factor, answers):
    """Water a pot until it runs whenever it is due; what it takes is the twin's."""
    seen, today = [], SPRING
    while len(seen) < answers:
        if outlook_of(tree, today, seen=seen).due_in_days == 0:
            truth = outlook_of(thirsty_twin(tree, factor), today, seen=seen)
            seen.append(ran(tree, today, truth.missing_l))
        today += DAY
    return seen, today


def test_nobody_answered_so_nothing_is_learned():
    assert learned(outlook_of(pot())) == (1.0, 0)
    assert learned(outlook_of(pot(), seen=[ran(pot(), JULY, None)])) == (1.0, 0)
    odd = felt(pot(), JULY, "soggy")
    assert learned(outlook_of(pot(), seen=[odd])) == (1.0, 0)


@pytest.mark.parametrize("factor", [0.75, 1.3])
def test_a_few_drained_pots_teach_what_the_tree_drinks(factor):
    seen, today = season_of_draining(pot(), factor, answers=4)
    before, water = outlook_of(pot(), today), outlook_of(pot(), today, seen=seen)
    found, answers = learned(water)
    assert answers == 4
    assert found == pytest.approx(factor, rel=0.12)
    assert water.use_l / before.use_l == pytest.approx(found)
    spread = dict(water.working)["demand_spread"]
    assert 0.02 < spread < 0.2


def test_water_until_it_ran_fills_the_pot_and_is_a_word():
    water = outlook_of(pot(), seen=[ran(pot(), JULY, 6.0)])
    assert water.missing_l == pytest.approx(0, abs=1e-9)
    assert water.unknown_water_days == 0
    assert water.due_in_days >= 1


def test_water_of_which_none_ran_out_is_counted_once_and_is_a_word():
    tree, bare = pot(), outlook_of(pot(), seen=())
    litres = 0.3 * bare.store_l
    kept = Observation(tree.id, "not_drained_l", JULY, value=litres)
    water = outlook_of(tree, seen=[kept])
    less = min(litres, bare.missing_l)
    assert water.missing_l == pytest.approx(bare.missing_l - less, abs=0.3)
    assert water.unknown_water_days == 0
    ticked = watered(tree, JULY, litres)
    assert outlook_of(tree, work=[ticked], seen=[kept]).missing_l == water.missing_l


def test_a_pot_that_kept_a_full_can_drinks_more_than_its_crown_says():
    tree = pot()
    day = JULY - 3 * DAY
    missing = outlook_of(tree, day).missing_l
    ran_out = [ran(tree, day - 5 * DAY, 6.0)]
    kept = [Observation(tree.id, "not_drained_l", day, value=missing)]
    few = outlook_of(tree, day, seen=ran_out).missing_l
    assert few < missing
    alone, both = (
        learned(outlook_of(tree, JULY, seen=seen)) for seen in (ran_out, ran_out + kept)
    )
    assert both[0] > alone[0]
    assert both[1] == 2


def test_what_was_forgotten_teaches_nothing_but_filled_the_pot():
    seen, today = season_of_draining(pot(), 1.3, answers=3)
    forgotten = [replace(each, is_forgotten=True) for each in seen]
    water, plain = (
        outlook_of(pot(), today, seen=answers) for answers in (forgotten, ())
    )
    assert learned(water) == (1.0, 0)
    assert learned(outlook_of(pot(), today, seen=seen))[0] > 1.1
    assert water.unknown_water_days < plain.unknown_water_days


def test_dry_and_wet_soil_pull_the_demand_apart():
    tree = old_apple()
    days = [JULY - timedelta(days=7 * back) for back in range(3)]
    factors = [
        learned(outlook_of(tree, seen=[felt(tree, day, word) for day in days]))[0]
        for word in ("wet", "right", "dry")
    ]
    assert factors == sorted(factors)
    assert factors[0] < 0.95


def test_learning_stops_where_crown_or_pot_are_more_likely_wrong():
    seen, today = season_of_draining(pot(), 2.2, answers=5)
    water = outlook_of(pot(), today, seen=seen)
    assert learned(water)[0] == 1.40
    assert dict(water.working)["demand_found"] > 1.40
    assert "demand_out_of_range" in water.notes
    assert "demand_out_of_range" not in outlook_of(pot(), today).notes


def test_the_order_of_answers_does_not_matter():
    tree = old_apple()
    seen = [
        felt(tree, JULY - timedelta(days=d), w) for d, w in ((1, "dry"), (9, "wet"))
    ]
    assert outlook_of(tree, seen=seen) == outlook_of(tree, seen=seen[::-1])


def test_an_answer_for_one_of_a_clump_is_an_answer_for_all():
    pair = [old_apple(id=4, clump_id=7), old_apple(id=5, clump_id=7)]
    seen = [felt(pair[1], JULY, "dry")]
    both = simulate_water(SITE, pair, weather(JULY), [], seen, JULY, 40)
    assert learned(both[4]) == learned(both[5])
    assert learned(both[4])[1] == 1


def test_one_trees_answers_say_nothing_of_another():
    trees = [old_apple(), new_apple(), pot()]
    seen = [felt(trees[0], JULY, "dry")]
    alone = simulate_water(SITE, trees, weather(JULY), [], [], JULY, 40)
    told = simulate_water(SITE, trees, weather(JULY), [], seen, JULY, 40)
    assert learned(told[1])[1] == 1
    assert told[2] == alone[2]
    assert told[3] == alone[3]


def test_answers_from_before_the_tree_stood_there_are_not_its_own():
    tree = new_apple()
    early = felt(tree, tree.planted_on - DAY, "dry")
    assert learned(outlook_of(tree, seen=[early])) == (1.0, 0)


def test_a_course_is_drawn_with_what_was_learned():
    seen, today = season_of_draining(pot(), 1.3, answers=3)
    water = outlook_of(pot(), today, seen=seen)
    course = water_course(
        SITE,
        [pot()],
        weather(today),
        [watered(pot(), today - timedelta(days=400), 1.0)],
        observations=seen,
        today=today,
        tree_id=3,
    )
    now = course.days.index(today)
    assert course.use_l[now] == pytest.approx(water.use_l)
