"""Why a place stays open: who could, what stops them, and what would help."""

from collections.abc import Iterable
from dataclasses import dataclass

from care.scheduling.rota.board import Board
from care.scheduling.rota.handovers import find_chains
from care.scheduling.rota.terms import Offer, Rota, Shift, Stops


@dataclass(frozen=True, slots=True)
class OpenPlace:
    """What is known of one open place; people by number, sorted.

    ``stopped`` could hold it but for what is named. ``busy_people`` already cover
    ``busy_places`` between them, and no hand-over among them frees anybody. The rest
    tells whom to ask: who has the skill but offered another day, and the other way.
    """

    place_id: str
    stopped: tuple[tuple[int, Stops], ...]
    busy_people: int
    busy_places: int
    skill_without_day: tuple[int, ...]
    day_without_skill: tuple[int, ...]
    said_no: tuple[int, ...]


def why_open(
    shifts: Iterable[Shift], offers: Iterable[Offer], rota: Rota
) -> tuple[OpenPlace, ...]:
    """Return why each open place of a finished rota is open, in time.

    Parameters
    ----------
    shifts, offers, rota
        As made by :func:`propose_rota`, or as people changed it since.
    """
    board = Board(shifts, offers)
    for seat_id, holder in sorted(rota.holders.items()):
        if holder is not None and seat_id in board.seats and holder in board.offers:
            board.give(seat_id, holder)
    return tuple(
        _explain(board, seat_id)
        for seat_id in board.seats
        if rota.holders.get(seat_id) is None
    )


def _explain(board: Board, seat_id: str) -> OpenPlace:
    shift, place = board.seats[seat_id]
    able = board.able[seat_id]
    stopped = ((person, board.stops(person, seat_id)) for person in able)
    _, reach = find_chains(
        board,
        [seat_id],
        may_move=lambda s: not board.seats[s].place.is_locked,
    )
    others = [offer for person, offer in board.offers.items() if person not in able]
    has_skill = {
        offer.person
        for offer in others
        if not place.skill or place.skill in offer.skills
    }
    said_no = [offer.person for offer in others if shift.id in offer.refused]
    return OpenPlace(
        place_id=seat_id,
        stopped=tuple((person, stop) for person, stop in stopped if stop is not None),
        busy_people=len(reach.people),
        busy_places=len(reach.seats) - 1,
        skill_without_day=tuple(
            offer.person
            for offer in others
            if place.skill and offer.person in has_skill and shift.day not in offer.days
        ),
        day_without_skill=tuple(
            offer.person
            for offer in others
            if shift.day in offer.days and offer.person not in has_skill
        ),
        said_no=tuple(said_no),
    )
