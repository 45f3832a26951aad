"""One look at a time, for the right things, and silence in between."""

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import RainFacts, RainState, Span, WorkDone
from care.rules.inspection import propose
from tests.care.rules.cases import (
    MILD,
    SHORT,
    WARM,
    WARM_SOUTH,
    morning,
    orange,
    species,
    tree,
)

APPLE = species(harvest=Span(7, 11), days_bloom_to_harvest=140)
MAY = date(2014, 5, 20)


def asked(today=MAY, its_tree=None, site=MILD, **more):
    found = propose(morning(today, its_tree or tree(APPLE), site, **more))
    assert len(found) <= 1
    return found[0] if found else None


def checks(proposal):
    return str(proposal.reason.fact("checks")).split()


def test_young_fruit_is_searched_every_week():
    # UC Sacramento: weekly for entry holes from petal fall.
    look = asked()
    assert look is not None
    assert look.reason.fact("stage") == "fruitlet"
    assert look.reason.fact("every_days") == 7
    assert "entry_holes" in checks(look)
    assert look.sources == ("uc_codling", "uc_ipm_fire_blight", "ipm_calendar")
    assert "clean_each_cut" in look.cautions


def test_a_look_that_was_taken_makes_room_for_the_next():
    first = asked()
    assert first is not None
    done = WorkDone(1, "inspection", first.key, MAY)
    second = asked(work=(done,))
    assert second is not None
    assert second.key != first.key
    assert second.due > first.due


def test_a_look_that_nobody_took_lapses():
    first = asked()
    assert first is not None
    later = asked(first.latest + timedelta(days=1))
    assert later is not None
    assert later.key != first.key


def test_of_neighbours_only_one_asks_and_names_how_many():
    look = asked(look_mates=(2, 3))
    assert look is not None
    assert look.reason.fact("neighbours") == 2
    assert look.effort_minutes == 15
    assert "guard_and_ties" in checks(look)
    assert asked(look_mates=(2, 3), is_look_lead=False) is None


def test_a_far_look_is_only_likely():
    look = asked(date(2014, 12, 20))
    assert look is not None
    assert not look.is_firm


def test_rains_that_have_set_in_raise_the_care_but_not_the_pace():
    wet = RainFacts(RainState.SET_IN, began_on=date(2014, 5, 1))
    dry = RainFacts(RainState.AWAITED)
    soaked, awaited = asked(rains=wet), asked(rains=dry)
    assert soaked is not None
    assert awaited is not None
    assert "wet_leaves" in checks(soaked)
    assert "wet_disease" in soaked.cautions
    assert "wet_disease" not in awaited.cautions
    assert soaked.reason.would_change == ("rains_change",)
    assert (soaked.key, soaked.due) == (awaited.key, awaited.due)


def test_a_tenth_of_the_leaves_is_borne_without_a_deed():
    # From memory: a healthy tree loses a tenth of its leaves without harm
    look = asked()
    assert look is not None
    assert look.reason.fact("tolerated_leaf_share") == 0.10


def test_the_rains_of_today_say_nothing_of_a_look_months_ahead():
    wet = RainFacts(RainState.SET_IN, began_on=date(2013, 10, 1))
    far = asked(date(2014, 1, 30), rains=wet)
    assert far is not None
    assert far.earliest > date(2014, 2, 13)
    assert far.reason.fact("is_wet") is False
    assert "wet_disease" not in far.cautions
    near = asked(far.earliest - timedelta(days=14), rains=wet)
    assert near is not None
    assert near.key == far.key
    assert near.reason.fact("is_wet") is True


def test_open_bloom_is_never_sprayed():
    look = asked(date(2014, 4, 28))
    assert look is not None
    assert look.reason.fact("stage") == "bloom"
    assert "no_spray_open_bloom" in look.cautions


def test_the_label_is_the_law_on_every_look():
    look = asked()
    assert look is not None
    assert "spray_label_law" in look.cautions


def test_nobody_climbs_for_a_look():
    tall = asked(its_tree=tree(APPLE, height_m=4.0))
    wired = asked(its_tree=tree(APPLE, near_wires=True))
    assert tall is not None
    assert wired is not None
    assert "stay_on_ground" in tall.cautions
    assert wired.cautions[0] == "power_lines"


def test_citrus_is_searched_for_what_must_be_reported():
    kind = orange(harvest=Span(11, 4), days_bloom_to_harvest=270)
    look = asked(date(2014, 7, 1), tree(kind), WARM)
    assert look is not None
    assert "quarantine" in checks(look)


def test_what_was_due_before_the_tree_was_entered_is_not_asked_for():
    look = asked(its_tree=tree(APPLE, entered_on=MAY))
    assert look is not None
    assert look.due >= MAY


def test_a_tree_that_is_planted_later_waits():
    look = asked(
        its_tree=tree(planted_on=date(2014, 5, 1), entered_on=date(2014, 4, 1))
    )
    assert look is not None
    assert look.due >= date(2014, 5, 1)


@pytest.mark.parametrize("today", [date(2014, month, 15) for month in range(1, 13)])
def test_a_grown_apple_is_looked_over_at_most_weekly(today):
    look = asked(today)
    assert look is not None
    done = WorkDone(1, "inspection", look.key, today)
    following = asked(today, work=(done,))
    assert following is not None
    assert (following.due - look.due).days >= 7


def walked(its_tree, site, year):
    """Return the days of a year on which a diligent grower would look."""
    work: list[WorkDone] = []
    day = date(year, 1, 1)
    while day.year == year:
        look = asked(day, its_tree, site, work=tuple(work))
        if look is not None and look.is_firm and look.due <= day:
            work.append(WorkDone(1, "inspection", look.key, day))
        day += timedelta(days=1)
    return [item.on for item in work]


@pytest.mark.parametrize(
    ("kind", "most"),
    [(APPLE, 15), (species("fig", feed_group="other"), 9), (orange(), 9)],
)
def test_a_year_asks_for_few_looks(kind, most):
    for site in (MILD, WARM, WARM_SOUTH):
        assert 3 <= len(walked(tree(kind), site, 2014)) <= most


@given(
    today=st.dates(date(2013, 1, 1), date(2016, 12, 31)),
    is_citrus=st.booleans(),
    planted=st.dates(date(2000, 1, 1), date(2012, 12, 31)),
)
@settings(max_examples=80)
def test_one_look_is_open_and_stays_the_same_until_its_days_end(
    today, is_citrus, planted
):
    facts: dict[str, Any] = {"planted_on": planted, "entered_on": planted}
    its_tree = tree(orange() if is_citrus else APPLE, **facts)
    for site in (MILD, SHORT, WARM, WARM_SOUTH):
        now = asked(today, its_tree, site)
        assert now is None or now.latest >= today
        if now is not None and now.latest > today:
            tomorrow = asked(today + timedelta(days=1), its_tree, site)
            assert tomorrow is not None
            assert (tomorrow.key, tomorrow.due) == (now.key, now.due)


def test_the_south_looks_half_a_year_later():
    north = asked(date(2014, 5, 20), tree(APPLE), WARM)
    moved = tree(APPLE, planted_on=date(2004, 9, 1))
    south = asked(date(2014, 11, 19), moved, WARM_SOUTH)
    assert north is not None
    assert south is not None
    assert (north.key, north.reason) == (south.key, south.reason)
