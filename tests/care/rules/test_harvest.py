"""Harvest: from the bloom seen, or from the months as a first guess."""

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import (
    Observation,
    Span,
    SpeciesFacts,
    Stage,
    StageDay,
    WorkDone,
)
from care.rules.harvest import propose
from tests.care.rules.cases import WARM, WARM_SOUTH, morning, orange, species, tree

FULL_BLOOM = date(2014, 4, 20)
AUGUST = date(2014, 8, 10)
SEEN = (Observation(1, "bloom_stage", FULL_BLOOM, word="full_bloom"),)


def apple(**changes: Any) -> SpeciesFacts:
    facts: dict[str, Any] = {
        "harvest": Span(7, 11),
        "days_bloom_to_harvest": 140,
        "yield_mature_kg": 87.0,
    }
    return species(**{**facts, **changes})


def closed(key, on=AUGUST, what="done", reason=""):
    return WorkDone(1, "harvest", key, on, what, reason=reason)


def picked(on, mass_kg=4.0):
    return Observation(1, "harvest", on, mass_kg)


def test_bloom_seen_means_a_day_to_pick():
    (task,) = propose(morning(AUGUST, tree(apple()), observations=SEEN))
    assert (task.kind, task.key, task.action) == ("harvest", "2014/pick1", "pick")
    # Extension tables: Gala 110-120, Red Delicious 135-155, Fuji 170-185 days
    assert task.earliest == FULL_BLOOM + timedelta(days=110)
    assert task.due == FULL_BLOOM + timedelta(days=140)
    assert task.latest == FULL_BLOOM + timedelta(days=185)
    assert task.amount is None


def test_a_cultivar_by_name_narrows_the_days():
    gala = tree(apple(unverified=frozenset({"days_bloom_to_harvest"})), cultivar="Gala")
    (task,) = propose(morning(AUGUST, gala, observations=SEEN))
    # Extension tables: Gala 110-120 days, give or take ten
    assert task.earliest == FULL_BLOOM + timedelta(days=100)
    assert task.due == FULL_BLOOM + timedelta(days=115)
    assert task.latest == FULL_BLOOM + timedelta(days=130)
    assert task.reason.fact("bloom_to_harvest_days") == 115
    assert task.reason.fact("unverified") is False
    assert task.sources[0] == "cultivar_days"


def test_a_guess_is_only_a_look_inside_the_catalogues_months():
    (task,) = propose(morning(AUGUST, tree(apple())))
    assert (task.action, task.reason.code) == ("look", "harvest_by_month")
    assert date(2014, 7, 1) <= task.earliest <= task.due <= task.latest
    assert task.latest <= date(2014, 11, 30)
    assert task.due == date(2014, 5, 1) + timedelta(days=140)
    assert "bloom_seen" in task.reason.would_change


@pytest.mark.parametrize(("days", "is_firm"), [(15, False), (14, True), (0, True)])
def test_a_projection_until_two_weeks_before_the_window(days, is_firm):
    day = FULL_BLOOM + timedelta(days=110 - days)
    (task,) = propose(morning(day, tree(apple()), observations=SEEN))
    assert task.is_firm is is_firm


def test_a_modelled_bloom_is_a_look_inside_its_own_days():
    bloom = StageDay(Stage.FULL_BLOOM, 2014, FULL_BLOOM, "heat")
    (task,) = propose(morning(AUGUST, tree(apple()), stages=(bloom,)))
    assert (task.key, task.action) == ("2014/look1", "look")
    assert task.reason.code == "harvest_from_model"
    assert task.earliest == FULL_BLOOM + timedelta(days=110 - 7)
    assert task.latest == FULL_BLOOM + timedelta(days=185 + 7)


@pytest.mark.parametrize(
    ("what", "reason"), [("done", ""), ("skipped", "no_time"), ("skipped", "")]
)
def test_a_look_comes_again(what, reason):
    first = (closed("2014/look1", date(2014, 9, 1), what, reason),)
    (task,) = propose(morning(date(2014, 9, 2), tree(apple()), work=first))
    assert (task.key, task.is_firm) == ("2014/look2", True)
    # 59 days from the likely day to the last, a sixth of them between looks
    assert task.due == date(2014, 9, 10)
    second = (*first, closed("2014/look2", date(2014, 9, 10)))
    (third,) = propose(morning(date(2014, 9, 11), tree(apple()), work=second))
    assert (third.key, third.due) == ("2014/look3", date(2014, 9, 19))


@pytest.mark.parametrize(("days_before", "is_of_it"), [(30, True), (31, False)])
def test_a_picking_of_the_month_before_is_of_this_crop(days_before, is_of_it):
    first = FULL_BLOOM + timedelta(days=110)
    early = picked(first - timedelta(days=days_before))
    found = propose(morning(AUGUST, tree(apple()), observations=(*SEEN, early)))
    assert ("2014/pick1" not in {task.key for task in found}) is is_of_it


def test_a_short_harvest_is_looked_at_weekly():
    cherry = apple(key="sweet_cherry", harvest=Span(5, 7), days_bloom_to_harvest=65)
    day = date(2014, 6, 25)
    work = (closed("2014/look1", day),)
    (task,) = propose(morning(day, tree(cherry), work=work))
    assert task.due == day + timedelta(days=7)


def test_no_look_comes_after_the_window():
    late = (closed("2014/look1", date(2014, 11, 12)),)
    (task,) = propose(morning(date(2014, 11, 13), tree(apple()), work=late))
    assert (task.key, task.is_firm) == ("2015/look1", False)


@pytest.mark.parametrize("reason", ["no_crop", "taken_by_others", "not_needed"])
def test_a_crop_that_is_none_is_over(reason):
    work = (closed("2014/look1", what="skipped", reason=reason),)
    (task,) = propose(morning(AUGUST, tree(apple()), work=work))
    assert (task.key, task.is_firm) == ("2015/look1", False)


def test_a_crop_that_was_picked_is_over():
    work = (closed("2014/pick1"),)
    (task,) = propose(morning(AUGUST, tree(apple()), work=work, observations=SEEN))
    assert task.key == "2015/look1"
    weighed = (picked(date(2014, 8, 8)),)
    assert propose(morning(AUGUST, tree(apple()), observations=weighed))[0].key == (
        "2015/look1"
    )
    last = (StageDay(Stage.HARVEST, 2014, date(2014, 8, 8), "seen"),)
    assert propose(morning(AUGUST, tree(apple()), stages=last))[0].key == "2015/look1"


def test_a_guess_of_the_last_picking_ends_nothing():
    guess = (StageDay(Stage.HARVEST, 2014, date(2014, 8, 8), "months"),)
    assert propose(morning(AUGUST, tree(apple()), stages=guess))[0].key == "2014/look1"
    ahead = (StageDay(Stage.HARVEST, 2014, date(2014, 9, 8), "seen"),)
    assert propose(morning(AUGUST, tree(apple()), stages=ahead))[0].key == "2014/look1"


def test_a_postponed_picking_comes_again():
    work = (closed("2014/pick1", AUGUST, "skipped", "waiting_days"),)
    (task,) = propose(morning(AUGUST, tree(apple()), work=work, observations=SEEN))
    assert (task.key, task.action) == ("2014/pick2", "pick")
    assert task.earliest == date(2014, 8, 17)
    assert task.due == FULL_BLOOM + timedelta(days=140)


def test_last_years_picking_is_told_and_does_not_end_this_one():
    old = (picked(date(2013, 9, 20), 31.5), picked(date(2013, 9, 28), 10.0))
    (task,) = propose(morning(AUGUST, tree(apple()), observations=old))
    assert (task.key, task.reason.fact("last_year_kg")) == ("2014/look1", 41.5)
    (none,) = propose(morning(AUGUST, tree(apple())))
    assert none.reason.fact("last_year_kg") is None


def test_after_the_window_nothing_is_late():
    (task,) = propose(morning(date(2014, 12, 1), tree(apple())))
    assert (task.key, task.is_firm) == ("2015/look1", False)


def test_a_crop_that_was_over_at_entry_is_not_asked_for():
    newcomer = tree(apple(), entered_on=date(2014, 12, 5))
    assert propose(morning(date(2014, 12, 5), newcomer))[0].key == "2015/look1"


def test_winter_citrus_keeps_the_name_of_its_bloom():
    citrus = orange(harvest=Span(11, 6), days_bloom_to_harvest=270)
    work = (closed("2013/look1", date(2014, 1, 10), "skipped", "no_crop"),)
    (task,) = propose(morning(date(2015, 1, 10), tree(citrus), WARM, work=work))
    assert (task.key, task.is_firm) == ("2014/look1", True)
    assert task.due.year == 2014


@pytest.mark.parametrize(
    "kind",
    [
        apple(harvest=None),
        apple(days_bloom_to_harvest=None),
        apple(bloom=Span(1, 12)),
        apple(harvest=Span(1, 12)),
    ],
    ids=["no months", "no days", "blooms all year", "bears all year"],
)
def test_no_date_is_invented(kind):
    assert propose(morning(AUGUST, tree(kind))) == ()


def test_trees_too_young_to_bear_are_left_alone():
    young = tree(apple(), planted_on=date(2013, 3, 1))
    assert propose(morning(AUGUST, young)) == ()


def test_the_yield_is_an_orchard_trees_by_crown_and_says_so():
    (task,) = propose(morning(AUGUST, tree(apple(), crown_width_m=2.5)))
    # Arizona Master Gardener Manual: 4 bushels a semi-dwarf apple; a quarter of it here
    assert task.reason.fact("expected_kg") == pytest.approx(87 / 4, abs=0.1)
    assert task.reason.fact("orchard_tree_kg") == 87
    assert task.reason.fact("crown_share") == 0.25
    assert task.reason.fact("age_share") is None


def test_own_pickings_correct_the_yield_from_a_half_to_twice():
    quarter = tree(apple(), crown_width_m=2.5)
    for mass_kg, factor in ((2.0, 0.5), (17.4, 0.8), (400.0, 2.0)):
        seen = (picked(date(2013, 9, 20), mass_kg),)
        (task,) = propose(morning(AUGUST, quarter, observations=seen))
        assert task.reason.fact("yield_factor") == pytest.approx(factor, abs=0.001)
        assert task.reason.fact("expected_kg") == pytest.approx(
            factor * 87 / 4, abs=0.1
        )
    years = [picked(date(year, 9, 20), 43.5) for year in (2012, 2013)]
    (task,) = propose(morning(AUGUST, quarter, observations=tuple(years)))
    assert task.reason.fact("yield_factor") == 2.0
    (plain,) = propose(morning(AUGUST, quarter))
    assert plain.reason.fact("yield_factor") == 1.0


def test_a_pots_yield_is_told_as_a_range_and_an_unmeasured_one_not_at_all():
    pot = tree(apple(), in_container=True, crown_width_m=1.0)
    (potted,) = propose(morning(AUGUST, pot, observations=SEEN))
    least, most = (
        potted.reason.fact(name) for name in ("expected_least_kg", "expected_kg")
    )
    assert (least, most) == (1.2, 3.5)
    assert potted.effort_minutes == 10
    unmeasured = tree(apple(), in_container=True, crown_width_m=None)
    (unknown,) = propose(morning(AUGUST, unmeasured, observations=SEEN))
    assert unknown.reason.fact("expected_kg") is None
    assert unknown.effort_minutes == 30


def test_without_a_crown_the_years_tell():
    young = tree(apple(), planted_on=date(2009, 3, 1), crown_width_m=None)
    (task,) = propose(morning(AUGUST, young))
    assert task.reason.fact("age_share") == pytest.approx(0.43, abs=0.02)
    assert task.reason.fact("crown_share") is None


def test_only_the_figures_that_are_shown_name_their_source():
    sources = (("days_bloom_to_harvest", "days"), ("yield_mature_kg", "yield"))
    (task,) = propose(morning(AUGUST, tree(apple(sources=sources))))
    assert task.sources == ("days", "yield", "ripeness_signs")
    unmeasured = tree(apple(sources=sources), crown_width_m=None, planted_on=None)
    assert propose(morning(AUGUST, unmeasured))[0].sources == ("days", "ripeness_signs")


# University of Maine Extension; Utah State University Extension, fruit questions.
@pytest.mark.parametrize(
    ("key", "group", "sign"),
    [
        ("apple", "pome", "ground_colour"),
        ("pear", "pome", "picked_green"),
        ("peach", "stone", "ground_colour_soft"),
        ("sweet_cherry", "stone", "tree_ripe"),
        ("raspberry", "other", "tree_ripe"),
        ("fig", "other", "hangs_soft"),
        ("orange", "citrus", "taste_first"),
        ("avocado", "tropical", "ripens_off_tree"),
        ("walnut", "nut", "falls"),
        ("guava", "tropical", "colour_and_taste"),
    ],
)
def test_how_ripeness_shows(key, group, sign):
    kind = apple(key=key, feed_group=group)
    (task,) = propose(morning(AUGUST, tree(kind)))
    assert task.reason.fact("sign") == sign


@pytest.mark.parametrize(
    ("changes", "ladder"),
    [
        ({"height_m": 2.0}, ()),
        ({"height_m": 3.0}, ("look_for_wires", "ladder")),
        ({"height_m": None}, ("look_for_wires", "ladder", "stay_on_the_ground")),
        ({"height_m": None, "in_container": True}, ()),
        ({"height_m": 3.0, "near_wires": True}, ("power_lines",)),
    ],
)
def test_ladders_wires_windfalls_and_waiting_days(changes, ladder):
    (task,) = propose(morning(AUGUST, tree(apple(), **changes)))
    assert task.cautions == (*ladder, "waiting_days", "windfalls")


def test_a_plant_that_can_harm_sends_its_reader_to_the_note():
    for note, is_warned in (("Sap burns.", True), ("Not known to be toxic", False)):
        kind = apple(key="mango", feed_group="tropical", toxicity_note=note)
        (task,) = propose(morning(AUGUST, tree(kind)))
        assert ("read_species_note" in task.cautions) is is_warned
        assert "mango_sap" in task.cautions


@given(crop=st.integers(2013, 2040), start=st.integers(1, 12), length=st.integers(1, 4))
@settings(max_examples=60)
def test_windows_mirror_by_half_a_year(crop, start, length):
    harvest = Span(start, (start + length - 1) % 12 + 1)
    its_tree = tree(apple(harvest=harvest), entered_on=date(2012, 1, 1))
    done = tuple(
        closed(f"{year}/look1", date(2012, 1, 1), "skipped", "no_crop")
        for year in range(2005, crop)
    )
    day = date(crop - 1, 12, 1)
    (north,) = propose(morning(day, its_tree, WARM, work=done))
    (south,) = propose(morning(day, its_tree, WARM_SOUTH, work=done))
    assert north.key == south.key == f"{crop}/look1"
    for one, other in (
        (north.earliest, south.earliest),
        (north.due, south.due),
        (north.latest, south.latest),
    ):
        assert abs((other - one).days - 182.6) <= 5


@given(day=st.dates(date(2014, 1, 1), date(2015, 12, 30)), is_seen=st.booleans())
@settings(max_examples=60)
def test_keys_are_stable_from_day_to_day(day, is_seen):
    seen = SEEN if is_seen and day >= FULL_BLOOM else ()
    (today,) = propose(morning(day, tree(apple()), observations=seen))
    (tomorrow,) = propose(
        morning(day + timedelta(days=1), tree(apple()), observations=seen)
    )
    assert (tomorrow.key == today.key) is (today.latest > day)
