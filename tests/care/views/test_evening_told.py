"""Never a second alarm for the same night unless it worsens."""

import pytest
from hypothesis import given, strategies as st

from care.views.evening_told import NOTHING, Told, all_told, news, told_of

STATES = st.builds(
    Told,
    st.dictionaries(st.sampled_from("12"), st.floats(-15, 5), max_size=2),
    st.frozensets(st.sampled_from(["lemon/move_in", "fig/cover", "lime/cover"])),
    st.frozensets(st.sampled_from(["frost advisory", "freeze warning"])),
    st.frozensets(st.sampled_from("12")),
)
COLD = Told({"1": -2.0}, frozenset({"lemon/move_in"}), frozenset())


def live(evening):
    """Return what was told in an evening whose state changes, each with its news."""
    told = []
    for state in evening:
        found = news(all_told(told), state)
        if not found.is_none:
            told.append(state)
    return told


@given(evening=st.lists(STATES, max_size=12))
def test_over_any_evening_nothing_is_told_twice_unless_it_worsens(evening):
    told = live(evening)
    for number, state in enumerate(told):
        before = all_told(told[:number])
        grew = any(
            getattr(state, name) - getattr(before, name)
            for name in ("work", "warnings", "heat")
        )
        colder = any(
            site in before.minima and low <= before.minima[site] - 1.5
            for site, low in state.minima.items()
        )
        assert grew or colder
    assert len(told) <= 7 + 2 * 14  # names, and steps of 1.5 degC of two sites


@given(state=STATES, times=st.integers(1, 5))
def test_an_evening_that_stays_as_it_is_is_told_once(state, times):
    assert len(live([state] * times)) == len(live([state])) <= 1


@given(evening=st.lists(STATES, min_size=1, max_size=6))
def test_an_evening_that_gets_better_is_silent(evening):
    known = all_told(evening)
    warmer = Told(
        {site: low + 1 for site, low in known.minima.items()}, frozenset(), frozenset()
    )
    assert news(known, warmer).is_none


@pytest.mark.parametrize(
    ("low_c", "is_news"), [(-3.4, False), (-3.5, True), (-9.0, True), (0.0, False)]
)
def test_a_night_worsens_by_a_degree_and_a_half(low_c, is_news):
    colder = Told({"1": low_c}, COLD.work, frozenset())
    evening = [COLD, COLD, colder, colder]
    assert len(live(evening)) == 1 + is_news
    if is_news:
        assert news(COLD, colder).colder == {"1": (-2.0, low_c)}


def test_a_new_tree_or_another_work_for_it_is_news():
    more = Told({"1": -2.0}, COLD.work | {"fig/cover"}, frozenset())
    assert news(COLD, more).work == {"fig/cover"}


def test_a_warning_newly_raised_is_news_and_repeated_is_none():
    raised = Told({"1": -2.0}, COLD.work, frozenset({"freeze warning"}))
    assert news(COLD, raised).warnings == {"freeze warning"}
    assert live([COLD, raised, raised]) == [COLD, raised]


def test_cold_that_nobody_was_told_of_is_not_colder():
    assert news(NOTHING, Told({"1": -9.0}, frozenset(), frozenset())).is_none


@given(state=STATES)
def test_what_a_message_keeps_is_read_back(state):
    assert told_of(state.as_json()) == Told(
        dict(state.minima), state.work, state.warnings, state.heat
    )


def test_a_message_that_kept_nothing_told_nothing():
    assert told_of({}) == NOTHING
