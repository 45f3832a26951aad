"""A rota from shifts and offers: fill, then be fair, then heed wishes."""

from collections.abc import Iterable

from care.scheduling.rota.board import Board
from care.scheduling.rota.handovers import Chain, Reach, apply_first, find_chains
from care.scheduling.rota.terms import Offer, Rota, Shift, Wish

WISH_PASSES = 6


def propose_rota(shifts: Iterable[Shift], offers: Iterable[Offer]) -> Rota:
    """Return who should hold which place.

    Parameters
    ----------
    shifts : iterable of Shift
        Published places name their holder, who stays while able, unless a place could
        not be filled otherwise; locked ones stay always.
    offers : iterable of Offer
        One a person.

    Returns
    -------
    Rota
        The same for the same input in any order; run on its own published result it
        changes nothing.

    Raises
    ------
    ValueError
        Two places share an id, or two offers a person.
    """
    offers = list(offers)
    if len({offer.person for offer in offers}) < len(offers):
        message = "somebody offers twice"
        raise ValueError(message)
    board = Board(shifts, offers)
    settled = keep_published(board)
    _fill(board, settled)
    _be_fair(board, settled)
    _heed_wishes(board, settled)
    return Rota(dict(board.holder))


def keep_published(board: Board) -> frozenset[str]:
    """Give published places to those who held them; return those that were kept.

    Somebody who has since taken back a date or said no is no longer able.
    """
    kept = set()
    published = [
        (not seat.place.is_locked, seat_id)
        for seat_id, seat in board.seats.items()
        if seat.place.holder is not None
        and (seat.place.is_published or seat.place.is_locked)
    ]
    for is_loose, seat_id in sorted(published):
        holder = board.seats[seat_id].place.holder
        if holder is None or holder not in board.offers:
            continue
        is_able = holder in board.able[seat_id] and not board.stops(holder, seat_id)
        if is_able or not is_loose:
            board.give(seat_id, holder)
            kept.add(seat_id)
    return frozenset(kept)


def _fill(board: Board, settled: frozenset[str]) -> None:
    """Fill what can be filled, critical places first; none is emptied for another."""
    waiting = sorted(
        (seat_id for seat_id, holder in board.holder.items() if holder is None),
        key=lambda seat_id: _urgency(board, seat_id),
    )
    locked = frozenset(s for s in settled if board.seats[s].place.is_locked)
    unmoved = (settled, locked) if locked < settled else (settled,)
    in_vain: dict[frozenset[str], set[str]] = {fixed: set() for fixed in unmoved}
    for seat_id in waiting:
        for fixed in unmoved:
            if _fill_one(board, seat_id, fixed, in_vain[fixed]):
                break


def _fill_one(
    board: Board, seat_id: str, fixed: frozenset[str], in_vain: set[str]
) -> bool:
    """Fill a place without moving fixed ones; what led nowhere is not asked again.

    Later hand-overs never lead out of where one search found no end.
    """
    chains, reach = find_chains(
        board, [seat_id], may_move=lambda s: s not in fixed, in_vain=in_vain
    )
    if not chains:
        in_vain |= reach.seats
    return apply_first(board, chains)


def _urgency(board: Board, seat_id: str) -> tuple[object, ...]:
    seat = board.seats[seat_id]
    return (
        not seat.shift.is_critical,
        not seat.place.skill,
        len(board.able[seat_id]),
        seat.shift.day,
        seat_id,
    )


def _be_fair(board: Board, settled: frozenset[str]) -> None:
    """Hand shifts on from those with most of their share to those with least.

    Chains that lower the greatest cost are sought until none is left, which is the
    optimum of the convex sum (Harvey et al. 2006).
    """
    while _fair_pass(board, settled):
        pass


def _fair_pass(board: Board, settled: frozenset[str]) -> bool:
    is_changed = False
    rested: set[int] = set()
    while (busiest := _busiest(board, rested)) is not None:
        chains, reach = _reliefs(board, busiest, settled)
        if apply_first(board, chains):
            is_changed = True
            continue
        # Who can hand on only to those just asked in vain will ask in vain too.
        rested.add(busiest)
        rested |= {
            person
            for person, held in board.held.items()
            if not chains and held - settled <= reach.seats
        }
    return is_changed


def _busiest(board: Board, rested: set[int]) -> int | None:
    costs = [
        (-board.marginal_cost(person, 0), person)
        for person, held in board.held.items()
        if held and person not in rested
    ]
    return min(costs)[1] if costs else None


def _reliefs(
    board: Board, person: int, settled: frozenset[str]
) -> tuple[list[Chain], Reach]:
    return find_chains(
        board,
        board.held[person] - settled,
        may_move=lambda s: s not in settled,
        below=board.marginal_cost(person, 0),
        banned=(person,),
        may_trade=True,
    )


def _heed_wishes(board: Board, settled: frozenset[str]) -> None:
    """Swap two places of two people where both together like it better."""
    for _pass in range(WISH_PASSES):
        if not _swap_pass(board, settled):
            return


def _swap_pass(board: Board, settled: frozenset[str]) -> bool:
    is_changed = False
    for seat_id, holder in board.holder.items():
        if holder is None or seat_id in settled or _wish(board, seat_id) == Wish.GLADLY:
            continue
        others = (
            other for person in board.able[seat_id] for other in board.held[person]
        )
        for other in sorted(set(others) - settled):
            is_changed |= _swap(board, seat_id, other)
    return is_changed


def _wish(board: Board, seat_id: str) -> int:
    person = board.holder[seat_id]
    return 0 if person is None else board.wish(person, seat_id)


def _swap(board: Board, one: str, other: str) -> bool:
    first, second = board.holder[one], board.holder[other]
    if first is None or second is None or first == second:
        return False
    if second not in board.able[one] or first not in board.able[other]:
        return False
    gain = board.wish(second, one) + board.wish(first, other)
    if gain <= _wish(board, one) + _wish(board, other):
        return False
    _exchange(board, one, other, first, second)
    if board.is_lawful(first) and board.is_lawful(second):
        return True
    _exchange(board, one, other, second, first)
    return False


def _exchange(board: Board, one: str, other: str, first: int, second: int) -> None:
    board.take(one)
    board.take(other)
    board.give(one, second)
    board.give(other, first)
