"""A person takes a fresh plan of the walks."""

from datetime import date, datetime

from django.db import transaction

from care.planning.fresh_plan import find_fresh_plan
from care.planning.plan_site import ensure_planned, plan_site
from orchard.actions.audit import note
from orchard.actions.places import raise_revision
from orchard.models import Person, Site


class PlanMovedError(Exception):
    """The plan is no longer the one that the person looked at."""


@transaction.atomic
def use_fresh_plan(
    *, site: Site, person: Person, today: date, now: datetime, seen_revision: int
) -> int:
    """Choose the days of the walks anew; return how many tasks moved.

    Days with a published shift, today and tomorrow keep what they have. Of two at once
    the second finds nothing left to save.

    Raises
    ------
    PlanMovedError
        Something changed since ``seen_revision``, that of the plan looked at.
    """
    locked = Site.objects.select_for_update().get(pk=site.pk)
    if locked.revision != seen_revision:
        raise PlanMovedError
    ensure_planned(locked, today)
    found = find_fresh_plan(locked, today)
    if found is None:
        return 0
    raise_revision(locked)
    plan_site(locked, today, now, is_fresh=True)
    note(
        orchard=locked.orchard,
        person=person,
        what="fresh_plan_used",
        subject=locked.name,
        after={"tasks_moved": len(found.moves), "walks_saved": found.walks_saved},
        now=now,
    )
    return len(found.moves)
