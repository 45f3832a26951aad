"""The rules for who may hold a place of a shift, asked before anybody is put on one.

What stops somebody is hard: no page, edit, claim or swap gets round it. What only speaks
against it is told: whoever takes a place agrees to it.

Those under 18 come along to learn and nothing else, never where a ladder, a saw or a
spray is part of the shift. On farms of the United States the law closes power saws,
felling of timber and work from a ladder over 20 feet to hired people under 16 (29 CFR
570 subpart E-1: 570.71(a)(3)(iv), (5), (6)), and away from farms chain saws and chippers
to those under 18 (hazardous occupations order 14). Here it is every ladder, saw and
spray, and everybody under 18, paid or not. Local law goes before where it is stricter.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from care.planning.offers import MemberOffers
from care.scheduling.rota.learners import may_learn
from care.scheduling.rota.terms import Learner, Shift
from orchard.models import is_hazard_skill

#: Nobody works alone with a ladder, a saw or a spray: ANSI Z133 wants a second worker
#: within sight or call of one in a tree with a saw (from memory). So for ladders too.
FEWEST_AT_A_HAZARD = 2


class Stop(StrEnum):
    """Why somebody may not hold a place, whatever they wish."""

    NOT_MEMBER = "not_member"
    NOT_ON = "not_on"
    OVER = "over"
    OFFERED_TO_ANOTHER = "offered_to_another"
    FOR_A_SWAP = "for_a_swap"
    SAME_DAY = "same_day"
    NO_SKILL = "no_skill"
    UNDER_18_HAZARD = "under_18_hazard"
    UNDER_18_COUNTED = "under_18_counted"
    UNDER_18_TWO = "under_18_two"
    LEARNER_COUNTED = "learner_counted"
    NO_MENTOR = "no_mentor"
    NOT_LEARNER = "not_learner"


class Against(StrEnum):
    """What speaks against it and does not stop it."""

    DAY_NOT_OFFERED = "day_not_offered"
    WEEK_FULL = "week_full"
    SEASON_FULL = "season_full"


@dataclass(frozen=True, slots=True)
class PlaceTerms:
    """What decides of one place.

    ``is_hazardous``: a ladder, a saw or a spray is part of its shift. ``grown_ups`` are
    those on the shift's counted places; ``busy`` hold a place of another shift that day.
    """

    day: date
    skill: str = ""
    is_learner: bool = False
    is_hazardous: bool = False
    grown_ups: frozenset[int] = frozenset()
    busy: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Load:
    """How many shifts each person holds or did in the week and season of a day."""

    week: Mapping[int, int] = field(default_factory=dict)
    season: Mapping[int, int] = field(default_factory=dict)


def stops(member: MemberOffers | None, place: PlaceTerms) -> tuple[Stop, ...]:
    """Return what stops somebody from holding a place, gravest first; empty if nothing.

    ``member`` is ``None`` for one who is no member now or whose role may not tick. The
    place itself, whether it is open and its shift takes place, is not judged here.
    """
    if member is None:
        return (Stop.NOT_MEMBER,)
    found = list(_age_and_learning(member, place))
    if place.skill and place.skill not in member.skills:
        found.append(Stop.NO_SKILL)
    if member.person_id in place.busy:
        found.append(Stop.SAME_DAY)
    return tuple(found)


def _age_and_learning(member: MemberOffers, place: PlaceTerms) -> tuple[Stop, ...]:
    if member.is_under_18:
        return _under_18(member, place)
    if not member.is_learner:
        return (Stop.NOT_LEARNER,) if place.is_learner else ()
    if not place.is_learner:
        return (Stop.LEARNER_COUNTED,)
    return () if _may_learn(member, place) else (Stop.NO_MENTOR,)


def _under_18(member: MemberOffers, place: PlaceTerms) -> tuple[Stop, ...]:
    if place.is_hazardous or is_hazard_skill(place.skill):
        return (Stop.UNDER_18_HAZARD,)
    if not place.is_learner:
        return (Stop.UNDER_18_COUNTED,)
    if _may_learn(member, place):
        return ()
    is_beside_mentor = place.grown_ups & member.mentors - {member.person_id}
    return (Stop.UNDER_18_TWO if is_beside_mentor else Stop.NO_MENTOR,)


def _may_learn(member: MemberOffers, place: PlaceTerms) -> bool:
    learner = Learner(
        person=member.person_id,
        days=frozenset(),
        mentors=member.mentors,
        is_under_18=member.is_under_18,
    )
    shift = Shift("", place.day, (), is_hazardous=place.is_hazardous)
    return may_learn(learner, shift, place.grown_ups)


def speaks_against(
    member: MemberOffers, place: PlaceTerms, load: Load
) -> tuple[Against, ...]:
    """Return what the person said they would rather not exceed, this place included."""
    person = member.person_id
    week, season = member.most_a_week, member.most_a_season
    is_full_week = week is not None and load.week.get(person, 0) >= week
    is_full_season = season is not None and load.season.get(person, 0) >= season
    found = (
        (Against.DAY_NOT_OFFERED, place.day not in member.days),
        (Against.WEEK_FULL, is_full_week),
        (Against.SEASON_FULL, is_full_season),
    )
    return tuple(what for what, applies in found if applies)


def may_begin(*, is_hazardous: bool, present: Collection[int]) -> bool:
    """Whether a shift may begin with these grown-ups; alone never at a hazard.

    Where it may not, the work with ladder, saw or spray is dropped from the shift and
    goes back to planning; the rest may be done.
    """
    return not is_hazardous or len(set(present)) >= FEWEST_AT_A_HAZARD
