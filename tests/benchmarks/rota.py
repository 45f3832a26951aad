"""How long a rota takes, as a ratio to the same rota by scipy's HiGHS.

Run: ``.venvs/lts-test/bin/python -m tests.benchmarks.rota``. Both get the same made-up
shifts and offers: 60 people in 8 weeks, 150 in 26. HiGHS solves one mixed-integer
program, the most places first and then the fairest; the own code heeds wishes too. That they agree is tested elsewhere; here both are printed.
"""

import random
import time
from collections import defaultdict
from datetime import date, timedelta
from fractions import Fraction

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from care.scheduling.rota import Offer, Place, Shift, Wish, propose_rota
from care.scheduling.rota.board import Board

MONDAY = date(2015, 4, 6)
SIZES = ((60, 8), (150, 26))
OPEN_PLACE_COST = 1000.0
SECONDS_AT_MOST = 60.0


def garden(people: int, weeks: int, seed: int = 1) -> tuple[list[Shift], list[Offer]]:
    """Make up shifts and offers: about one place in three weeks for each person."""
    draw = random.Random(seed)
    shifts = []
    for week in range(weeks):
        for number in range(max(people // 10, 2)):
            day = MONDAY + timedelta(days=7 * week + draw.randint(0, 6))
            name = f"{week:02}-{number:02}"
            skills = ("", "", "", "ladder" if draw.random() < 0.4 else "")
            places = tuple(
                Place(f"{name}-{n}", skill) for n, skill in enumerate(skills)
            )
            shifts.append(Shift(name, day, places))
    days = [MONDAY + timedelta(days=n) for n in range(7 * weeks)]
    offers = [
        Offer(
            person=person,
            days={
                day: Wish(draw.choice((-1, 0, 0, 1)))
                for day in days
                if draw.random() < 0.3
            },
            skills=frozenset({"ladder"} if draw.random() < 0.3 else ()),
            most_a_week=draw.randint(1, 2),
            most_a_season=max(weeks // 2, 3),
        )
        for person in range(1, people + 1)
    ]
    return shifts, offers


def highs(shifts: list[Shift], offers: list[Offer]) -> tuple[int, float]:
    """Return how many places HiGHS fills, and the least sum of load squared by share.

    Unknowns are who takes a place of one kind in a shift, and for each person one step
    a shift whose cost rises, as the square of the load does.
    """
    kinds = [
        (shift, places[0], len(places))
        for shift in shifts
        for places in by_skill(shift).values()
    ]
    pairs = [
        (shift, place, number, offer)
        for shift, place, number in kinds
        for offer in offers
        if offer.could(shift, place)
    ]
    share = Board(shifts, offers).fair_share
    steps = [(o, k) for o in offers for k in range(1, share[o.person] + 1)]
    rows: dict[object, list[tuple[int, int]]] = defaultdict(list)
    limit: dict[object, int] = {}
    for index, (shift, place, number, offer) in enumerate(pairs):
        for key, most in (
            (("kind", place.id), number),
            (("day", offer.person, shift.day), 1),
            (("week", offer.person, shift.week), offer.most_a_week),
            (("load", offer.person), 0),
        ):
            rows[key].append((index, 1))
            limit[key] = most
    for index, (offer, _k) in enumerate(steps, len(pairs)):
        if ("load", offer.person) in rows:
            rows["load", offer.person].append((index, -1))
    entries = [
        (row, index, factor)
        for row, members in enumerate(rows.values())
        for index, factor in members
    ]
    at, which, factor = (np.array(each) for each in zip(*entries, strict=True))
    costs = [-OPEN_PLACE_COST] * len(pairs)
    costs += [(2 * k - 1) / share[offer.person] for offer, k in steps]
    size = len(costs)
    answer = milp(
        np.array(costs),
        constraints=LinearConstraint(
            coo_array((factor, (at, which)), shape=(len(rows), size)).tocsr(),
            -np.inf,
            np.array([limit[key] for key in rows]),
        ),
        integrality=np.ones(size),
        bounds=Bounds(0, 1),
        options={"time_limit": SECONDS_AT_MOST, "mip_rel_gap": 0.0},
    )
    if answer.x is None:
        return 0, float("nan")
    filled = round(sum(answer.x[: len(pairs)]))
    return filled, float(answer.fun + OPEN_PLACE_COST * filled)


def by_skill(shift: Shift) -> dict[str, list[Place]]:
    found: dict[str, list[Place]] = defaultdict(list)
    for place in shift.places:
        found[place.skill].append(place)
    return found


def unfairness(shifts: list[Shift], offers: list[Offer], held: list[int]) -> float:
    """Return the sum of load squared by fair share."""
    share = Board(shifts, offers).fair_share
    return float(sum(Fraction(held.count(p) ** 2, share[p]) for p in set(held)))


def main() -> None:
    for people, weeks in SIZES:
        shifts, offers = garden(people, weeks)
        began = time.perf_counter()
        rota = propose_rota(shifts, offers)
        own_s = time.perf_counter() - began
        number, least = highs(shifts, offers)
        highs_s = time.perf_counter() - began - own_s
        held = [person for person in rota.holders.values() if person is not None]
        print(
            f"{people} people, {weeks} weeks, {len(rota.holders)} places: filled "
            f"{len(held)}, HiGHS {number}; unfairness "
            f"{unfairness(shifts, offers, held):.3f}, HiGHS {least:.3f}; own code takes "
            f"{own_s / highs_s:.2f} of HiGHS's time ({own_s:.2f} s, {highs_s:.2f} s)"
        )


if __name__ == "__main__":
    main()
