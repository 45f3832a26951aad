"""Chains of hand-overs: one takes the open place and hands on another, and so on.

Breadth first, so that the fewest people change. Giving away a place is considered once
only, which keeps the search short without missing a chain.
"""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field

from care.scheduling.rota.board import Board


@dataclass(frozen=True, slots=True)
class Step:
    """Somebody takes a place; nobody does where another is filled in its stead."""

    seat_id: str
    person: int | None


@dataclass(frozen=True, slots=True)
class Reach:
    """What a search met: people, and places that could have been handed on."""

    people: frozenset[int]
    seats: frozenset[str]


Chain = tuple[Step, ...]


def find_chains(
    board: Board,
    starts: Iterable[str],
    *,
    may_move: Callable[[str], bool],
    below: int | None = None,
    banned: Collection[int] = (),
    may_trade: bool = False,
    in_vain: Collection[str] = (),
) -> tuple[list[Chain], Reach]:
    """Return the shortest chains that fill one of the places, best first.

    Parameters
    ----------
    board : Board
    starts : iterable of str
        Places to fill; any one of them.
    may_move : callable
        Whether a place may be handed on.
    below : Fraction, optional
        Whoever takes one place more must cost less than this.
    banned : collection of int
        People who take nothing.
    may_trade : bool
        Whether a place may be left open for an open one that matters as much.
    in_vain : collection of str
        Places from which no chain is known to lead anywhere.

    Returns
    -------
    list of chains, Reach
        All chains of the first length at which there are any. A chain begins with the
        place that is filled; each step's person leaves the place of the next.
    """
    layer = sorted(starts)
    search = _Search(
        board, may_move, below, frozenset(banned), in_vain, dict.fromkeys(layer)
    )
    if may_trade:
        search.open = [s for s, holder in board.holder.items() if holder is None]
    while layer and not search.ends:
        layer = search.widen(layer)
    ends = sorted(search.ends, key=lambda end: (end[:3], end[3].seat_id))
    chains = [_chain(end[3], search.parent) for end in ends]
    return chains, Reach(frozenset(search.met), frozenset(search.parent))


@dataclass(slots=True)
class _Search:
    """How far a search has come: what was met, and who would hand on what."""

    board: Board
    may_move: Callable[[str], bool]
    below: int | None
    banned: frozenset[int]
    in_vain: Collection[str]
    parent: dict[str, Step | None]
    open: list[str] = field(default_factory=list)
    met: set[int] = field(default_factory=set)
    ends: list[tuple[int, int, int, Step]] = field(default_factory=list)

    def widen(self, layer: list[str]) -> list[str]:
        """Ask everybody able to take a place of this layer; return the next."""
        following: list[str] = []
        for seat_id in layer:
            for person in self.board.able[seat_id]:
                if person not in self.banned:
                    self.met.add(person)
                    following += self._ask(seat_id, person)
            following += self._trade(seat_id)
        return following

    def _ask(self, seat_id: str, person: int) -> list[str]:
        """Note a chain's end, or return the places the person could give away."""
        step = Step(seat_id, person)
        if self.board.stops(person, seat_id) is None:
            cost = self.board.marginal_cost(person)
            if self.below is None or cost < self.below:
                wish = self.board.wish(person, seat_id)
                self.ends.append((cost, -wish, person, step))
                return []
        given = self.board.would_make_room(person, seat_id)
        return self._follow([s for s in given if self.may_move(s)], step)

    def _trade(self, seat_id: str) -> list[str]:
        matters = self.board.seats[seat_id].shift.is_critical
        alike = [
            other
            for other in self.open
            if self.board.seats[other].shift.is_critical == matters
        ]
        return self._follow(alike, Step(seat_id, None))

    def _follow(self, seat_ids: Iterable[str], step: Step) -> list[str]:
        new = [
            seat_id
            for seat_id in seat_ids
            if seat_id not in self.parent and seat_id not in self.in_vain
        ]
        self.parent |= dict.fromkeys(new, step)
        return new


def _chain(last: Step, parent: dict[str, Step | None]) -> Chain:
    steps = [last]
    before = parent[last.seat_id]
    while before is not None:
        steps.append(before)
        before = parent[before.seat_id]
    return tuple(reversed(steps))


def apply_chain(board: Board, chain: Chain) -> bool:
    """Carry out a chain; nothing changes where it would break somebody's limits."""
    before = {step.seat_id: board.take(step.seat_id) for step in chain}
    after = {step.seat_id: step.person for step in chain}
    _give_all(board, after)
    touched = {*before.values(), *after.values()}
    if all(person is None or board.is_lawful(person) for person in touched):
        return True
    for step in chain:
        board.take(step.seat_id)
    _give_all(board, before)
    return False


def _give_all(board: Board, holders: Mapping[str, int | None]) -> None:
    for seat_id, person in holders.items():
        if person is not None:
            board.give(seat_id, person)


def apply_first(board: Board, chains: Iterable[Chain]) -> bool:
    """Carry out the first chain that keeps everybody's limits; whether one did."""
    return any(apply_chain(board, chain) for chain in chains)
