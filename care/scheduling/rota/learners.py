"""Learners and the young: placed last, never counted, only where the rules allow.

The rules are hard: they hold in every state, not only when a rota is made. For those
under 18 they follow what labour law forbids the young at hazardous work such as
ladders and powered saws (29 CFR 570, subpart E-1); local law goes before.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date
from fractions import Fraction

from care.scheduling.rota.terms import Learner, Rota, Shift

ADULTS_BESIDE_THE_YOUNG = 2


def may_learn(learner: Learner, shift: Shift, adults: Iterable[int]) -> bool:
    """Whether a learner may be on a shift with these grown-ups on it.

    Whoever is under 18 never where there is a hazard, and only beside two grown-ups,
    one of them a mentor; other learners beside a mentor.
    """
    present = set(adults) - {learner.person}
    if not present & learner.mentors:
        return False
    if not learner.is_under_18:
        return True
    return not shift.is_hazardous and len(present) >= ADULTS_BESIDE_THE_YOUNG


def place_learners(
    shifts: Iterable[Shift], rota: Rota, learners: Iterable[Learner]
) -> Mapping[str, tuple[int, ...]]:
    """Return who comes along to learn, by shift; the rota itself does not change.

    Shifts are gone through in time; on each, those with the lowest share so far come
    first. One learner for each mentor present.
    """
    known = {learner.person: learner for learner in learners}
    done: dict[int, int] = {person: one.carried for person, one in known.items()}
    weeks: dict[tuple[int, date], int] = defaultdict(int)
    taken: set[tuple[int, date]] = set()
    places: dict[str, tuple[int, ...]] = {}
    for shift in sorted(shifts, key=lambda shift: (shift.day, shift.id)):
        adults = rota.people(shift)
        busy: set[int] = set()
        chosen: list[int] = []
        order = sorted(known, key=lambda person: (_share(known, done, person), person))
        for person in order:
            learner = known[person]
            free = set(adults) & learner.mentors - busy
            is_offered = shift.day in learner.days and shift.id not in learner.refused
            has_room = weeks[person, shift.week] < learner.most_a_week
            is_free = (person, shift.day) not in taken and person not in adults
            if not (is_offered and has_room and is_free and free):
                continue
            if may_learn(learner, shift, adults):
                busy.add(min(free))
                chosen.append(person)
                done[person] += 1
                weeks[person, shift.week] += 1
                taken.add((person, shift.day))
        if chosen:
            places[shift.id] = tuple(chosen)
    return places


def _share(known: Mapping[int, Learner], done: Mapping[int, int], who: int) -> Fraction:
    return Fraction(done[who], max(len(known[who].days), 1))
