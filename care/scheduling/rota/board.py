"""The board a rota is made on: who holds what, what fits, and what it costs."""

from collections import Counter, defaultdict
from collections.abc import Iterable
from datetime import date
from math import floor, lcm
from typing import NamedTuple

from care.scheduling.rota.terms import Offer, Place, Shift, Stops


class Seat(NamedTuple):
    """A place together with its shift."""

    shift: Shift
    place: Place


def by_seat(shifts: Iterable[Shift]) -> dict[str, Seat]:
    """Return every place by its id.

    Raises
    ------
    ValueError
        Two places share an id.
    """
    seats: dict[str, Seat] = {}
    for shift in sorted(shifts, key=lambda shift: (shift.day, shift.id)):
        for place in shift.places:
            if place.id in seats:
                message = f"two places are called {place.id}"
                raise ValueError(message)
            seats[place.id] = Seat(shift, place)
    return seats


class Board:
    """Places and their holders, under everybody's limits.

    Costs are whole numbers on one scale, so that no rounding decides who comes.
    """

    def __init__(self, shifts: Iterable[Shift], offers: Iterable[Offer]) -> None:
        self.seats = by_seat(shifts)
        self.offers = {o.person: o for o in sorted(offers, key=lambda o: o.person)}
        self.holder: dict[str, int | None] = dict.fromkeys(self.seats)
        self.held: dict[int, set[str]] = {person: set() for person in self.offers}
        self.able = {
            seat_id: [
                person
                for person, offer in self.offers.items()
                if offer.could(seat.shift, seat.place)
            ]
            for seat_id, seat in self.seats.items()
        }
        self._most = {
            person: floor(offer.most_a_season - offer.carried)
            for person, offer in self.offers.items()
        }
        self._days: dict[int, Counter[date]] = defaultdict(Counter)
        self._weeks: dict[int, Counter[date]] = defaultdict(Counter)
        self._weigh()

    def _weigh(self) -> None:
        """Set what a shift more or less costs each person.

        With a load of ``n`` shifts, ``c`` carried into the season and a fair share of
        ``t``, the last one costs ``(2 (n + c) - 1) / t``; here times all denominators.
        """
        days: dict[int, set[Shift]] = defaultdict(set)
        for seat_id, able in self.able.items():
            for person in able:
                days[person].add(self.seats[seat_id].shift)
        targets = self.fair_share = {
            person: _fair_share(offer, days[person])
            for person, offer in self.offers.items()
        }
        done = {p: offer.carried + offer.begun_with for p, offer in self.offers.items()}
        whole = lcm(*(credit.denominator for credit in done.values()))
        scale = lcm(*targets.values())
        self._rate = {p: scale // target * whole for p, target in targets.items()}
        self._carried = {
            person: int(2 * credit * whole) * (scale // targets[person])
            for person, credit in done.items()
        }

    def give(self, seat_id: str, person: int) -> None:
        """Let a person hold a place that nobody holds."""
        self.holder[seat_id] = person
        self.held[person].add(seat_id)
        self._count(seat_id, person, 1)

    def take(self, seat_id: str) -> int | None:
        """Take a place from whoever holds it, and return them."""
        person = self.holder[seat_id]
        if person is not None:
            self.holder[seat_id] = None
            self.held[person].discard(seat_id)
            self._count(seat_id, person, -1)
        return person

    def _count(self, seat_id: str, person: int, number: int) -> None:
        shift = self.seats[seat_id].shift
        self._days[person][shift.day] += number
        self._weeks[person][shift.week] += number

    def marginal_cost(self, person: int, more: int = 1) -> int:
        """Return what a person's shift after ``more - 1`` others would cost.

        The sum of load squared over the fair share grows by it, so that the cheapest
        choice balances what people do of what they offered (Harvey, Ladner, Lovasz and
        Tamir 2006, semi-matchings for bipartite graphs and load balancing).
        """
        steps = 2 * (len(self.held[person]) + more) - 1
        return steps * self._rate[person] + self._carried[person]

    def wish(self, person: int, seat_id: str) -> int:
        """Return how gladly an able person would hold a place."""
        return int(self.offers[person].days[self.seats[seat_id].shift.day])

    def stops(self, person: int, seat_id: str) -> Stops | None:
        """Return what keeps an able person from one more place, ``None`` if nothing."""
        shift, offer = self.seats[seat_id].shift, self.offers[person]
        if self._days[person][shift.day]:
            return Stops.SAME_DAY
        if self._weeks[person][shift.week] >= offer.most_a_week:
            return Stops.WEEK_FULL
        if len(self.held[person]) >= self._most[person]:
            return Stops.SEASON_FULL
        return None

    def would_make_room(self, person: int, seat_id: str) -> list[str]:
        """Return the held places any one of which, given away, makes room for another.

        All, where there is room anyhow: one more for one less costs nobody anything.
        """
        shift = self.seats[seat_id].shift
        stop = self.stops(person, seat_id)
        held = sorted(self.held[person])
        if stop is Stops.SAME_DAY:
            return [h for h in held if self.seats[h].shift.day == shift.day]
        if stop is Stops.WEEK_FULL:
            return [h for h in held if self.seats[h].shift.week == shift.week]
        return held

    def is_lawful(self, person: int) -> bool:
        """Whether a person's places keep one a day and within both limits."""
        if max(self._days[person].values(), default=0) > 1:
            return False
        most_a_week = self.offers[person].most_a_week
        if max(self._weeks[person].values(), default=0) > most_a_week:
            return False
        return len(self.held[person]) <= max(self._most[person], 0)


def _fair_share(offer: Offer, shifts: Iterable[Shift]) -> int:
    """Return a person's fair share: what the limits leave of the days offered."""
    days: dict[date, set[date]] = defaultdict(set)
    for shift in shifts:
        days[shift.week].add(shift.day)
    share = sum(min(offer.most_a_week, len(week)) for week in days.values())
    return max(min(offer.most_a_season, share), 1)
