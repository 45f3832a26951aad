"""The words of a rota: shifts with places, and what people offer."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from enum import IntEnum, StrEnum
from fractions import Fraction
from functools import cached_property
from types import MappingProxyType

NO_LIMIT = 10_000


class Wish(IntEnum):
    """How gladly somebody comes on a day they offered."""

    RATHER_NOT = -1
    CAN_COME = 0
    GLADLY = 1


class Stops(StrEnum):
    """Why somebody who could hold a place does not."""

    SAME_DAY = "same_day"
    WEEK_FULL = "week_full"
    SEASON_FULL = "season_full"
    SAID_NO = "said_no"


@dataclass(frozen=True, slots=True)
class Place:
    """One person's part in a shift.

    ``skill`` is what its holder must bring, empty for none; different people fill
    different places. ``holder`` of a published place is kept while able; of a
    ``is_locked`` one always.
    """

    id: str
    skill: str = ""
    holder: int | None = None
    is_published: bool = False
    is_locked: bool = False


@dataclass(frozen=True)
class Shift:
    """Work on one day; ``is_critical`` where trees suffer if nobody comes.

    ``is_hazardous``: a ladder, a saw or a spray is part of it.
    """

    id: str
    day: date
    places: tuple[Place, ...]
    is_critical: bool = False
    is_hazardous: bool = False

    @cached_property
    def week(self) -> date:
        """The Monday of its week."""
        return self.day - timedelta(days=self.day.weekday())


@dataclass(frozen=True, slots=True)
class Offer:
    """What one grown-up offers.

    Parameters
    ----------
    person : int
    days : mapping of date to Wish
        The days they can come; all others they cannot.
    skills : frozenset of str
    most_a_week, most_a_season : int
        Shifts; the season's counts those already done.
    carried : Fraction
        Shifts done this season before this rota; a stand-in at short notice may have
        counted one and a half.
    begun_with : Fraction
        What somebody who came amid the season is taken to have done before, so that
        they need not catch up; it counts for fairness and for no limit.
    refused : frozenset of str
        Shifts they said no to.
    """

    person: int
    days: Mapping[date, Wish] = field(default_factory=lambda: MappingProxyType({}))
    skills: frozenset[str] = frozenset()
    most_a_week: int = NO_LIMIT
    most_a_season: int = NO_LIMIT
    carried: Fraction = Fraction(0)
    begun_with: Fraction = Fraction(0)
    refused: frozenset[str] = frozenset()

    def could(self, shift: Shift, place: Place) -> bool:
        """Whether nothing but other shifts keeps them from a place."""
        return (
            shift.day in self.days
            and shift.id not in self.refused
            and (not place.skill or place.skill in self.skills)
        )


@dataclass(frozen=True, slots=True)
class Learner:
    """Somebody who comes along and never counts as a needed person.

    ``mentors`` are the people one of whom must be there. ``is_under_18``: no hazard,
    and two grown-ups, one of them a mentor.
    """

    person: int
    days: frozenset[date]
    mentors: frozenset[int]
    is_under_18: bool = False
    most_a_week: int = 1
    most_a_season: int = NO_LIMIT
    carried: int = 0
    refused: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Rota:
    """Who holds which place; places that nobody can fill have no holder."""

    holders: Mapping[str, int | None]  # by place id

    def people(self, shift: Shift) -> tuple[int, ...]:
        """Return the holders of a shift's places, in the order of the places."""
        held = (self.holders.get(place.id) for place in shift.places)
        return tuple(person for person in held if person is not None)

    def open_places(self, shift: Shift) -> tuple[Place, ...]:
        """Return the shift's places without a holder."""
        return tuple(p for p in shift.places if self.holders.get(p.id) is None)
