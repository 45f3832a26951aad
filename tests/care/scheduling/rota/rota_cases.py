"""Random shifts and offers, and an independent judge of the best that can be had."""

import random
from collections import defaultdict
from datetime import date, timedelta
from fractions import Fraction

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from care.scheduling.rota import Offer, Place, Shift, Wish

MONDAY = date(2015, 4, 6)
SKILLS = ("ladder", "first_aid")


def case(seed, *, people=(3, 14), weeks=(1, 4), days_offered=0.4):
    """Shifts and offers of one season, from a seed."""
    draw = random.Random(seed)
    shifts = []
    for week in range(draw.randint(*weeks)):
        for number in range(draw.randint(1, 3)):
            day = MONDAY + timedelta(days=7 * week + draw.randint(0, 6))
            name = f"s{week}-{number}"
            needed = draw.randint(1, 3)
            skilled = draw.randint(0, min(needed, 2))
            places = tuple(
                Place(f"{name}-{n}", skill=SKILLS[n] if n < skilled else "")
                for n in range(needed)
            )
            shifts.append(Shift(name, day, places, is_critical=draw.random() < 0.3))
    days = sorted({shift.day for shift in shifts})
    offers = [
        Offer(
            person=person,
            days={
                day: Wish(draw.choice((-1, 0, 0, 1)))
                for day in days
                if draw.random() < days_offered
            },
            skills=frozenset(s for s in SKILLS if draw.random() < 0.4),
            most_a_week=draw.randint(1, 2),
            most_a_season=draw.randint(1, 5),
            refused=frozenset(shift.id for shift in shifts if draw.random() < 0.05),
        )
        for person in range(1, draw.randint(*people) + 1)
    ]
    return shifts, offers


def weight(shift):
    return 1000 if shift.is_critical else 1


def filled_weight(shifts, holders):
    return sum(
        weight(shift)
        for shift in shifts
        for place in shift.places
        if holders[place.id] is not None
    )


def share_of(offer, shifts):
    """A fair share, said anew from the rules: limits over the days that count."""
    weeks = defaultdict(set)
    for shift in shifts:
        if any(offer.could(shift, place) for place in shift.places):
            weeks[shift.week].add(shift.day)
    total = sum(min(offer.most_a_week, len(days)) for days in weeks.values())
    return max(min(offer.most_a_season, total), 1)


def unfairness(shifts, offers, holders):
    loads = defaultdict(int)
    for person in holders.values():
        loads[person] += 1
    return sum(
        Fraction(loads[offer.person] ** 2, share_of(offer, shifts)) for offer in offers
    )


def best_by_highs(shifts, offers):
    """The most weight that can be filled, and then the least unfairness [HiGHS].

    Two mixed-integer programs: unknowns are (place, person), and for each person one
    step a shift whose cost rises, as the square of the load does.
    """
    pairs = [
        (shift, place, offer)
        for shift in shifts
        for place in shift.places
        for offer in offers
        if offer.could(shift, place)
    ]
    if not pairs:
        return 0, Fraction(0)
    steps = [
        (offer, k)
        for offer in offers
        for k in range(1, min(len(shifts), offer.most_a_season) + 1)
    ]
    size = len(pairs) + len(steps)
    rows, most, least = [], [], []

    def at_most(members, limit, low=-np.inf):
        row = np.zeros(size)
        for index, factor in members:
            row[index] = factor
        rows.append(row)
        most.append(limit)
        least.append(low)

    groups = defaultdict(list)
    for index, (shift, place, offer) in enumerate(pairs):
        groups["place", place.id, 1].append((index, 1))
        groups["day", (offer.person, shift.day), 1].append((index, 1))
        groups["week", (offer.person, shift.week), offer.most_a_week].append((index, 1))
        groups["load", offer.person, 0].append((index, 1))
    for index, (offer, _k) in enumerate(steps, len(pairs)):
        groups["load", offer.person, 0].append((index, -1))
    for (what, _who, limit), members in groups.items():
        at_most(members, limit, 0 if what == "load" else -np.inf)
    values = np.array([weight(shift) for shift, _p, _o in pairs] + [0] * len(steps))
    matrix = np.array(rows)
    first = milp(
        -values,
        constraints=LinearConstraint(matrix, least, most),
        integrality=np.ones(size),
        bounds=Bounds(0, 1),
    )
    filled = round(-first.fun)
    shares = {offer.person: share_of(offer, shifts) for offer in offers}
    costs = np.array(
        [0.0] * len(pairs) + [(2 * k - 1) / shares[o.person] for o, k in steps]
    )
    second = milp(
        costs,
        constraints=LinearConstraint(
            np.vstack([matrix, values]), [*least, filled], [*most, filled]
        ),
        integrality=np.ones(size),
        bounds=Bounds(0, 1),
    )
    return filled, second.fun
