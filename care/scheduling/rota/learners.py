"""Learners and the young: placed last, never counted, only where the rules allow.

The rules are hard: they hold in every state, not only when a rota is made. For those
under 18 they follow what labour law forbids the young at hazardous work such as
ladders and powered saws (29 CFR 570, subpart E-1); local law goes before.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from datetime import date
from fractions import Fraction
from types import MappingProxyType

from care.scheduling.rota.terms import Learner, Rota, Shift

ADULTS_BESIDE_THE_YOUNG = 2
NOBODY: Mapping[str, tuple[int, ...]] = MappingProxyType({})


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
    shifts: Iterable[Shift],
    rota: Rota,
    learners: Iterable[Learner],
    held: Mapping[str, tuple[int, ...]] = NOBODY,
) -> Mapping[str, tuple[int, ...]]:
    """Return who comes along to learn, by shift; the rota itself does not change.

    Shifts are gone through in time; on each, those with the lowest share so far come
    first. One learner for each mentor present. ``held`` are learners' places of before,
    which stay and are not returned; they use up their mentors, days and limits.
    """
    shifts = sorted(shifts, key=lambda shift: (shift.day, shift.id))
    placing = _Placing({learner.person: learner for learner in learners})
    for shift in shifts:
        for person in held.get(shift.id, ()):
            placing.count(person, shift)
    places: dict[str, tuple[int, ...]] = {}
    for shift in shifts:
        chosen = placing.fill(shift, rota.people(shift), held.get(shift.id, ()))
        if chosen:
            places[shift.id] = tuple(chosen)
    return places


class _Placing:
    """How many places each learner has so far, and on which days."""

    def __init__(self, known: Mapping[int, Learner]) -> None:
        self.known = known
        self.done = {person: one.carried for person, one in known.items()}
        self.weeks: dict[tuple[int, date], int] = defaultdict(int)
        self.taken: set[tuple[int, date]] = set()

    def count(self, person: int, shift: Shift) -> None:
        """Count a place of somebody; who is no learner any more counts nowhere."""
        if person in self.known:
            self.done[person] += 1
            self.weeks[person, shift.week] += 1
            self.taken.add((person, shift.day))

    def fill(
        self, shift: Shift, adults: Collection[int], held: Iterable[int]
    ) -> list[int]:
        """Choose who comes along to a shift beside those who do already."""
        busy: set[int] = set()
        for person in held:
            if person in self.known:
                busy |= set(sorted(self._mentors(person, adults, busy))[:1])
        chosen: list[int] = []
        for person in sorted(self.known, key=self._turn):
            free = self._mentors(person, adults, busy)
            if not free or person in adults:
                continue
            learner = self.known[person]
            if self._has_room(learner, shift) and may_learn(learner, shift, adults):
                busy.add(min(free))
                chosen.append(person)
                self.count(person, shift)
        return chosen

    def _mentors(
        self, person: int, adults: Collection[int], busy: Collection[int]
    ) -> set[int]:
        return set(adults) & self.known[person].mentors - set(busy)

    def _has_room(self, learner: Learner, shift: Shift) -> bool:
        person = learner.person
        return (
            shift.day in learner.days
            and shift.id not in learner.refused
            and (person, shift.day) not in self.taken
            and self.weeks[person, shift.week] < learner.most_a_week
            and self.done[person] < learner.most_a_season
        )

    def _turn(self, person: int) -> tuple[Fraction, int]:
        days = max(len(self.known[person].days), 1)
        return Fraction(self.done[person], days), person
