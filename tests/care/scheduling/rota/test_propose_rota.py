"""A rota fills what can be filled, shares it fairly, and stays as it was."""

import random
from collections import Counter
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest

from care.scheduling.rota import Offer, Place, Shift, Wish, propose_rota
from tests.care.scheduling.rota.rota_cases import (
    MONDAY,
    best_by_highs,
    case,
    filled_weight,
    unfairness,
)

SEEDS = range(40)


def published(shifts, rota):
    return [
        replace(
            shift,
            places=tuple(
                replace(place, holder=rota.holders[place.id], is_published=True)
                for place in shift.places
            ),
        )
        for shift in shifts
    ]


@pytest.mark.parametrize("seed", SEEDS)
def test_no_rota_fills_more_nor_shares_more_fairly(seed):
    """Reference: scipy's HiGHS, a mixed-integer program of the same rules."""
    shifts, offers = case(seed)
    rota = propose_rota(shifts, offers)
    filled, fairest = best_by_highs(shifts, offers)
    assert filled_weight(shifts, rota.holders) == filled
    assert float(unfairness(shifts, offers, rota.holders)) <= float(fairest) + 1e-6


@pytest.mark.parametrize("seed", SEEDS)
def test_whoever_holds_a_place_may_and_can(seed):
    shifts, offers = case(seed)
    rota = propose_rota(shifts, offers)
    known = {offer.person: offer for offer in offers}
    days, weeks, seasons = Counter(), Counter(), Counter()
    for shift in shifts:
        for place in shift.places:
            person = rota.holders[place.id]
            if person is None:
                continue
            assert known[person].could(shift, place)
            days[person, shift.day] += 1
            weeks[person, shift.week] += 1
            seasons[person] += 1
    assert max(days.values(), default=0) <= 1
    assert all(count <= known[p].most_a_week for (p, _w), count in weeks.items())
    assert all(count <= known[p].most_a_season for p, count in seasons.items())


@pytest.mark.parametrize("seed", SEEDS[:20])
def test_the_order_of_shifts_and_offers_changes_nothing(seed):
    shifts, offers = case(seed)
    rota = propose_rota(shifts, offers)
    draw = random.Random(seed)
    draw.shuffle(shifts)
    draw.shuffle(offers)
    assert propose_rota(shifts, offers).holders == rota.holders


@pytest.mark.parametrize("seed", SEEDS[:20])
def test_a_published_rota_proposed_again_is_the_same(seed):
    shifts, offers = case(seed)
    rota = propose_rota(shifts, offers)
    assert propose_rota(published(shifts, rota), offers).holders == rota.holders


@pytest.mark.parametrize("seed", SEEDS[:20])
def test_who_drops_out_moves_nobody_where_somebody_is_free(seed):
    shifts, offers = case(seed, people=(8, 14), days_offered=0.7)
    rota = propose_rota(shifts, offers)
    gone = max(Counter(filter(None, rota.holders.values())).items(), key=max)[0]
    left = [offer for offer in offers if offer.person != gone]
    again = propose_rota(published(shifts, rota), left)
    moved = [
        place_id
        for place_id, person in rota.holders.items()
        if person not in (None, gone) and again.holders[place_id] != person
    ]
    alone = sum(person is None for person in again.holders.values())
    kept_open = propose_rota(shifts, left)
    assert alone == sum(person is None for person in kept_open.holders.values())
    assert len(moved) <= sum(person == gone for person in rota.holders.values())


@pytest.mark.parametrize("seed", SEEDS[:20])
def test_another_pair_of_hands_never_leaves_more_open(seed):
    shifts, offers = case(seed)
    before = filled_weight(shifts, propose_rota(shifts, offers).holders)
    newcomer = Offer(99, days={shift.day: Wish.CAN_COME for shift in shifts[::2]})
    after = filled_weight(shifts, propose_rota(shifts, [*offers, newcomer]).holders)
    assert after >= before


def one_place(name, day, **place):
    return Shift(name, day, (Place(f"{name}-a", **place),))


def test_a_chain_of_hand_overs_frees_the_one_who_can():
    """Only Ana may climb; she leaves watering to Per, who cannot."""
    ana = Offer(1, days={MONDAY: Wish.CAN_COME}, skills=frozenset({"ladder"}))
    per = Offer(2, days={MONDAY: Wish.CAN_COME})
    water = one_place("water", MONDAY, holder=1, is_published=True)
    prune = one_place("prune", MONDAY, skill="ladder")
    rota = propose_rota([water, prune], [ana, per])
    assert rota.holders == {"water-a": 2, "prune-a": 1}


def test_a_locked_place_is_handed_on_to_nobody():
    ana = Offer(1, days={MONDAY: Wish.CAN_COME}, skills=frozenset({"ladder"}))
    per = Offer(2, days={MONDAY: Wish.CAN_COME})
    water = one_place("water", MONDAY, holder=1, is_published=True, is_locked=True)
    prune = one_place("prune", MONDAY, skill="ladder")
    rota = propose_rota([water, prune], [ana, per])
    assert rota.holders == {"water-a": 1, "prune-a": None}


def test_a_season_begun_counts():
    """Who has done three already comes last."""
    offers = [
        Offer(1, days={MONDAY: Wish.GLADLY}, carried=Fraction(3)),
        Offer(2, days={MONDAY: Wish.RATHER_NOT}),
    ]
    assert propose_rota([one_place("s", MONDAY)], offers).holders == {"s-a": 2}


def test_wishes_are_heeded_where_nobody_does_more_for_it():
    tuesday = MONDAY + timedelta(days=1)
    offers = [
        Offer(1, days={MONDAY: Wish.RATHER_NOT, tuesday: Wish.GLADLY}),
        Offer(2, days={MONDAY: Wish.GLADLY, tuesday: Wish.RATHER_NOT}),
    ]
    shifts = [
        Shift("mon", MONDAY, (Place("m", holder=None),)),
        Shift("tue", tuesday, (Place("t", holder=None),)),
    ]
    assert propose_rota(shifts, offers).holders == {"m": 2, "t": 1}


def test_who_took_back_a_day_loses_the_place_and_a_locked_one_stays():
    shift = Shift(
        "s",
        MONDAY,
        (
            Place("free", holder=1, is_published=True),
            Place("locked", holder=2, is_published=True, is_locked=True),
        ),
    )
    rota = propose_rota([shift], [Offer(1), Offer(2)])
    assert rota.holders == {"free": None, "locked": 2}


def test_two_places_of_one_name_and_two_offers_of_one_person_are_refused():
    with pytest.raises(ValueError, match="two places are called s-a"):
        propose_rota([one_place("s", MONDAY), one_place("s", MONDAY)], [])
    with pytest.raises(ValueError, match="somebody offers twice"):
        propose_rota([], [Offer(1), Offer(1)])
