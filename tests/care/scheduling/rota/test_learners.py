"""Learners come along where the rules allow, and never stand in for anybody."""

from datetime import date, timedelta

from hypothesis import given, strategies as st

from care.scheduling.rota import Learner, Place, Rota, Shift, place_learners
from care.scheduling.rota.learners import may_learn
from tests.care.scheduling.rota.rota_cases import MONDAY

ADULTS = (1, 2, 3)
DAYS = [MONDAY + timedelta(days=n) for n in range(14)]


def shift(name, day, holders, *, is_hazardous=False):
    places = tuple(Place(f"{name}-{n}") for n in range(len(holders)))
    return Shift(name, day, places, is_hazardous=is_hazardous), {
        place.id: person for place, person in zip(places, holders, strict=True)
    }


def placed(*shifts, learners):
    holders = {}
    for _one, held in shifts:
        holders |= held
    return place_learners([one for one, _held in shifts], Rota(holders), learners)


def young(**changes):
    known = {"person": 9, "days": frozenset(DAYS), "mentors": frozenset({1})}
    return Learner(**{**known, "is_under_18": True, **changes})


def test_a_learner_comes_where_a_mentor_is():
    with_mentor = shift("a", MONDAY, [1])
    without = shift("b", DAYS[1], [2, 3])
    learner = young(is_under_18=False, most_a_week=7)
    assert placed(with_mentor, without, learners=[learner]) == {"a": (9,)}


def test_the_young_need_two_grown_ups_and_no_hazard():
    """Under 18 no ladder, saw or spray: hazardous occupations, 29 CFR 570 E-1."""
    shifts = [
        shift("alone", DAYS[0], [1]),
        shift("ladder", DAYS[1], [1, 2], is_hazardous=True),
        shift("two", DAYS[2], [1, 2]),
        shift("strangers", DAYS[3], [2, 3]),
    ]
    assert placed(*shifts, learners=[young(most_a_week=7)]) == {"two": (9,)}


def test_one_learner_for_each_mentor_and_the_least_seen_first():
    learners = [young(person=8, carried=1), young(person=9)]
    assert placed(shift("a", MONDAY, [1, 2]), learners=learners) == {"a": (9,)}
    two = [
        young(person=8, mentors=frozenset({1, 2})),
        young(person=9, mentors=frozenset({1, 2})),
    ]
    assert placed(shift("a", MONDAY, [1, 2]), learners=two) == {"a": (8, 9)}


def test_limits_and_refusals_of_learners_hold():
    shifts = [shift("a", DAYS[0], [1, 2]), shift("b", DAYS[1], [1, 2])]
    assert placed(*shifts, learners=[young()]) == {"a": (9,)}
    refusing = young(refused=frozenset({"a"}))
    assert placed(*shifts, learners=[refusing]) == {"b": (9,)}
    same_day = [shift("a", MONDAY, [1, 2]), shift("b", MONDAY, [1, 3])]
    assert placed(*same_day, learners=[young(most_a_week=9)]) == {"a": (9,)}
    assert placed(*shifts, learners=[young(days=frozenset())]) == {}


def test_places_learners_hold_already_use_up_their_limits_and_mentors():
    one, its = shift("a", DAYS[0], [1, 2])
    other, others = shift("b", DAYS[1], [1, 2])
    rota = Rota(its | others)
    learners = [young(), young(person=8)]
    held = {"b": (9, 7)}  # 7 learns no more
    assert place_learners([one, other], rota, learners, held) == {"a": (8,)}
    assert place_learners([other], rota, learners, held) == {}
    enough = young(most_a_week=7, most_a_season=3, carried=2)
    assert placed((one, its), (other, others), learners=[enough]) == {"a": (9,)}


def test_nobody_is_mentor_of_themselves():
    one, _ = shift("a", MONDAY, [1, 9])
    assert not may_learn(young(mentors=frozenset({9})), one, [9, 2, 3])


crews = st.lists(st.sampled_from(ADULTS), unique=True, max_size=3)


@given(
    st.lists(st.tuples(st.sampled_from(DAYS), crews, st.booleans()), max_size=8),
    st.lists(
        st.builds(
            Learner,
            person=st.integers(10, 14),
            days=st.frozensets(st.sampled_from(DAYS)),
            mentors=st.frozensets(st.sampled_from(ADULTS)),
            is_under_18=st.booleans(),
            most_a_week=st.integers(0, 3),
        ),
        max_size=5,
        unique_by=lambda learner: learner.person,
    ),
)
def test_whatever_is_offered_the_rules_hold(rows, learners):
    shifts = [
        shift(f"s{n}", day, crew, is_hazardous=hazard)
        for n, (day, crew, hazard) in enumerate(rows)
    ]
    result = placed(*shifts, learners=learners)
    known = {learner.person: learner for learner in learners}
    seen: set[tuple[int, date]] = set()
    for one, holders in shifts:
        adults = set(holders.values())
        for person in result.get(one.id, ()):
            learner = known[person]
            assert one.day in learner.days
            assert adults & learner.mentors
            assert not (learner.is_under_18 and one.is_hazardous)
            assert not (learner.is_under_18 and len(adults) < 2)
            assert (person, one.day) not in seen
            seen.add((person, one.day))
