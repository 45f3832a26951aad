"""Harvest: from the bloom seen, or from the months as a first guess."""

from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Observation, Span, SpeciesFacts, WorkDone
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


def closed(key, on=AUGUST, what="done"):
    return WorkDone(1, "harvest", key, on, what)


def test_bloom_seen_means_a_day_to_pick():
    (task,) = propose(morning(AUGUST, tree(apple()), observations=SEEN))
    assert (task.kind, task.key, task.action) == ("harvest", "2014/1", "pick")
    # Extension tables: Gala 110-120, Red Delicious 135-155, Fuji 170-185 days
    assert task.earliest == FULL_BLOOM + timedelta(days=110)
    assert task.due == FULL_BLOOM + timedelta(days=140)
    assert task.latest == FULL_BLOOM + timedelta(days=185)
    assert task.amount is None


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


@pytest.mark.parametrize("what", ["done", "skipped"])
def test_once_closed_the_next_crop_is_a_projection(what):
    work = (closed("2014/1", what=what),)
    (task,) = propose(morning(AUGUST, tree(apple()), work=work))
    assert (task.key, task.is_firm) == ("2015/1", False)


def test_after_the_window_nothing_is_late():
    (task,) = propose(morning(date(2014, 12, 1), tree(apple())))
    assert (task.key, task.is_firm) == ("2015/1", False)


def test_a_crop_that_was_over_at_entry_is_not_asked_for():
    newcomer = tree(apple(), entered_on=date(2014, 12, 5))
    assert propose(morning(date(2014, 12, 5), newcomer))[0].key == "2015/1"


def test_winter_citrus_keeps_the_name_of_its_bloom():
    citrus = orange(harvest=Span(11, 6), days_bloom_to_harvest=270)
    work = (closed("2013/1", date(2014, 1, 10)),)
    (task,) = propose(morning(date(2015, 1, 10), tree(citrus), WARM, work=work))
    assert (task.key, task.is_firm) == ("2014/1", True)
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
    assert task.reason.fact("expected_kg") == 22
    assert task.reason.fact("orchard_tree_kg") == 87
    assert task.reason.fact("yield_is_orchard_figure") is True
    pot = tree(apple(), in_container=True, crown_width_m=1.0)
    (potted,) = propose(morning(AUGUST, pot, observations=SEEN))
    assert potted.reason.fact("expected_kg") is None
    assert potted.effort_minutes == 30


def test_only_the_figures_that_are_shown_name_their_source():
    sources = (("days_bloom_to_harvest", "days"), ("yield_mature_kg", "yield"))
    (task,) = propose(morning(AUGUST, tree(apple(sources=sources))))
    assert task.sources == ("days", "yield", "ripeness_signs")
    unmeasured = tree(apple(sources=sources), crown_width_m=None)
    assert propose(morning(AUGUST, unmeasured))[0].sources == ("days", "ripeness_signs")


# University of Maine Extension; Utah State University Extension, fruit questions.
@pytest.mark.parametrize(
    ("key", "group", "sign"),
    [
        ("apple", "pome", "ground_colour"),
        ("pear", "pome", "picked_green"),
        ("peach", "stone", "ground_colour_soft"),
        ("sweet_cherry", "stone", "tree_ripe"),
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
        ({"height_m": None}, ("look_for_wires", "ladder")),
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


@given(crop=st.integers(2013, 2040), start=st.integers(1, 12), length=st.integers(1, 4))
@settings(max_examples=60)
def test_windows_mirror_by_half_a_year(crop, start, length):
    harvest = Span(start, (start + length - 1) % 12 + 1)
    its_tree = tree(apple(harvest=harvest), entered_on=date(2012, 1, 1))
    done = tuple(closed(f"{year}/1", date(2012, 1, 1)) for year in range(2005, crop))
    day = date(crop - 1, 12, 1)
    (north,) = propose(morning(day, its_tree, WARM, work=done))
    (south,) = propose(morning(day, its_tree, WARM_SOUTH, work=done))
    assert north.key == south.key == f"{crop}/1"
    for one, other in (
        (north.earliest, south.earliest),
        (north.due, south.due),
        (north.latest, south.latest),
    ):
        assert abs((other - one).days - 182.6) <= 5
