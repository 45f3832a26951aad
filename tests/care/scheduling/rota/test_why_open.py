"""Why a place stays open, said of people who could be asked."""

from datetime import timedelta

import pytest

from care.scheduling.rota import (
    Offer,
    Place,
    Rota,
    Shift,
    Stops,
    Wish,
    propose_rota,
    why_open,
)
from tests.care.scheduling.rota.rota_cases import MONDAY, case

TUESDAY = MONDAY + timedelta(days=1)


def shift(name, day, *skills):
    places = tuple(Place(f"{name}-{n}", skill) for n, skill in enumerate(skills))
    return Shift(name, day, places)


def can(person, *days, **changes):
    return Offer(person, days=dict.fromkeys(days, Wish.CAN_COME), **changes)


def test_who_offered_the_day_or_has_the_skill_can_be_asked():
    shifts = [shift("prune", MONDAY, "ladder")]
    offers = [
        can(1, MONDAY),
        can(2, TUESDAY, skills=frozenset({"ladder"})),
        can(3, MONDAY, skills=frozenset({"ladder"}), refused=frozenset({"prune"})),
    ]
    rota = propose_rota(shifts, offers)
    (why,) = why_open(shifts, offers, rota)
    assert why.day_without_skill == (1,)
    assert why.skill_without_day == (2,)
    assert why.said_no == (3,)
    assert why.stopped == ()


def test_what_stops_those_who_could_is_named():
    shifts = [
        shift("a", MONDAY, "", "", "", ""),
        shift("b", TUESDAY, "", "", ""),
    ]
    offers = [can(1, MONDAY, most_a_season=9), can(2, MONDAY, TUESDAY, most_a_week=1)]
    rota = Rota({**dict.fromkeys(("a-0", "a-1", "a-2", "a-3")), "b-0": 2})
    rota = Rota({**rota.holders, "a-0": 1, "b-1": None, "b-2": None})
    stops = {why.place_id: dict(why.stopped) for why in why_open(shifts, offers, rota)}
    assert stops["a-1"] == {1: Stops.SAME_DAY, 2: Stops.WEEK_FULL}
    spent = [can(1, MONDAY, TUESDAY, most_a_season=1)]
    (why,) = why_open(
        [shift("a", MONDAY, ""), shift("b", TUESDAY, "")],
        spent,
        Rota({"a-0": 1, "b-0": None}),
    )
    assert why.stopped == ((1, Stops.SEASON_FULL),)
    assert (why.busy_people, why.busy_places) == (1, 1)


@pytest.mark.parametrize("seed", range(30))
def test_nobody_named_is_free(seed):
    shifts, offers = case(seed)
    rota = propose_rota(shifts, offers)
    known = {offer.person: offer for offer in offers}
    seats = {place.id: (one, place) for one in shifts for place in one.places}
    for why in why_open(shifts, offers, rota):
        one, place = seats[why.place_id]
        able = {p for p, offer in known.items() if offer.could(one, place)}
        assert {person for person, _stop in why.stopped} == able
        named = {*why.skill_without_day, *why.day_without_skill, *why.said_no}
        assert not named & able
