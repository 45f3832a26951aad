"""What a walk costs on a day: cheap where somebody offered to come.

A day on which nobody can come is dear, never forbidden: a plan always says when to come.
"""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from care.models import Shift
from care.planning.offers import MemberOffers, gather_offers
from care.scheduling.rounds import (
    EVERY_DAY_USABLE,
    NOBODY_HOME_COST,
    OTHER_DAY_COST,
    USABLE_DAY_COST,
    OpeningCost,
)
from orchard.models import Site

# Somebody comes, though they would rather not; ours, between a day that somebody
# offered and one of which nothing is known.
UNWILLING_DAY_COST = 200
WORKING_WISH = 0


def day_costs(offers: Sequence[MemberOffers]) -> OpeningCost:
    """Return what opening a round costs by date, from what members offer.

    Where nobody ever said anything, all days are alike.
    """
    if not any(one.days or one.refused for one in offers):
        return EVERY_DAY_USABLE

    def cost(day: date) -> int:
        wishes = [one.days[day] for one in offers if day in one.days]
        if wishes:
            is_willing = max(wishes) >= WORKING_WISH
            return USABLE_DAY_COST if is_willing else UNWILLING_DAY_COST
        is_possible = any(one.may_come(day) for one in offers)
        return OTHER_DAY_COST if is_possible else NOBODY_HOME_COST

    return cost


def costs_ahead(site: Site, today: date, days: int) -> OpeningCost:
    """Return what a round costs on each day ahead of a site, in three queries."""
    last = today + timedelta(days=days)
    return day_costs(gather_offers(site.orchard_id, today, last))


def shift_days(site: Site, today: date) -> frozenset[date]:
    """Return the days from today on for which a shift is published: people come."""
    days: Iterable[date] = Shift.objects.filter(
        site=site, status=Shift.Status.PUBLISHED, day__gte=today
    ).values_list("day", flat=True)
    return frozenset(days)
