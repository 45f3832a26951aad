"""Who may hold a place: each rule, and the law beside the rules for the young."""

from datetime import timedelta

import pytest

from care.planning.offers import MemberOffers
from care.planning.place_rules import (
    Against,
    Load,
    PlaceTerms,
    Stop,
    may_begin,
    speaks_against,
    stops,
)
from tests.care.shift_people import SATURDAY

MENTOR, OTHER, ME = 1, 2, 3


def member(**facts):
    values = {"person_id": ME, "name": "Me", "days": {}, "refused": frozenset()}
    return MemberOffers(**{**values, **facts})


def place(**facts):
    return PlaceTerms(**{"day": SATURDAY, **facts})


YOUNG = member(is_under_18=True, mentors=frozenset({MENTOR}))
LEARNER = member(is_learner=True, mentors=frozenset({MENTOR}))
BOTH = frozenset({MENTOR, OTHER})


@pytest.mark.parametrize(
    ("who", "where", "expected"),
    [
        (None, place(), (Stop.NOT_MEMBER,)),
        (member(), place(), ()),
        (member(), place(skill="ladder"), (Stop.NO_SKILL,)),
        (member(skills=frozenset({"ladder"})), place(skill="ladder"), ()),
        (member(), place(busy=frozenset({ME})), (Stop.SAME_DAY,)),
        (member(), place(is_learner=True), (Stop.NOT_LEARNER,)),
        (LEARNER, place(grown_ups=BOTH), (Stop.LEARNER_COUNTED,)),
        (LEARNER, place(is_learner=True, grown_ups=frozenset({MENTOR})), ()),
        (
            LEARNER,
            place(is_learner=True, grown_ups=frozenset({OTHER})),
            (Stop.NO_MENTOR,),
        ),
        (YOUNG, place(is_learner=True, grown_ups=BOTH), ()),
        (YOUNG, place(grown_ups=BOTH), (Stop.UNDER_18_COUNTED,)),
        (
            YOUNG,
            place(is_learner=True, grown_ups=frozenset({MENTOR})),
            (Stop.UNDER_18_TWO,),
        ),
        (
            YOUNG,
            place(is_learner=True, grown_ups=frozenset({OTHER, 4})),
            (Stop.NO_MENTOR,),
        ),
        # Who learns at no hazard may, being grown up, learn at one.
        (LEARNER, place(is_learner=True, is_hazardous=True, grown_ups=BOTH), ()),
    ],
)
def test_each_rule_stops_whom_it_means(who, where, expected):
    assert stops(who, where) == expected


# 29 CFR 570.71(a), particularly hazardous in agriculture below the age of 16: (3)(iv)
# "power-driven circular, band, or chain saw", (5) felling timber, (6) "working from a
# ladder or scaffold ... pruning trees, picking fruit, etc." over 20 feet, read in a copy
# of the code; (9) handling pesticides of the two worst classes, from memory. Off farms
# hazardous occupations order 14 closes chain saws and chippers to all under 18, read in
# a federal list of the orders. Ours goes further: every one of them, below 18.
@pytest.mark.parametrize("skill", ["ladder", "saw", "spray", "chainsaw", ""])
def test_nobody_under_18_is_near_a_ladder_a_saw_or_a_spray(skill):
    where = place(skill=skill, is_learner=True, grown_ups=BOTH, is_hazardous=not skill)
    skilled = member(
        is_under_18=True,
        mentors=frozenset({MENTOR}),
        skills=frozenset({"ladder", "saw", "spray", "chainsaw"}),
    )
    assert stops(skilled, where) == (Stop.UNDER_18_HAZARD,)


def test_nobody_begins_alone_where_there_is_a_hazard():
    """ANSI Z133: a second worker within sight or call of a saw aloft, from memory."""
    assert not may_begin(is_hazardous=True, present=[])
    assert not may_begin(is_hazardous=True, present=[MENTOR, MENTOR])
    assert may_begin(is_hazardous=True, present=[MENTOR, OTHER])
    assert may_begin(is_hazardous=False, present=[MENTOR])


def test_what_people_offered_speaks_and_stops_nothing():
    limits = {"most_a_week": 1, "most_a_season": 4}
    who = member(days={SATURDAY: -1}, **limits)
    assert speaks_against(who, place(), Load()) == ()
    full = Load(week={ME: 1}, season={ME: 4})
    assert speaks_against(who, place(), full) == (
        Against.WEEK_FULL,
        Against.SEASON_FULL,
    )
    assert speaks_against(member(), place(), full) == (Against.DAY_NOT_OFFERED,)
    other_day = place(day=SATURDAY + timedelta(days=1))
    assert Against.DAY_NOT_OFFERED in speaks_against(who, other_day, Load())
