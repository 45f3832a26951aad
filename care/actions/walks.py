"""A walk begins: from then on its trees keep their order."""

from datetime import date, datetime

from django.db import transaction
from django.db.models import Q

from care.models import Round, Task
from care.planning.walk_order import corners_for, in_walking_order
from orchard.models import Site


@transaction.atomic
def begin_walks(*, site: Site, today: date, now: datetime) -> int:
    """Begin every round of today that has something open; return how many began.

    Nothing that a plan reads is changed, so the site's revision stays.
    """
    rounds = Round.objects.filter(
        site=site, day=today, is_withdrawn=False, begun_at=None
    )
    return sum(_begin(one, now) for one in rounds.filter(_has_open()).distinct())


def begin_with(task: Task, *, on: date, now: datetime) -> None:
    """Begin the round of a task that is ticked on its day; a part of actions.

    Later ticks find it begun and change nothing.
    """
    one = task.round
    if one is None or one.begun_at is not None or one.day != on:
        return
    _begin(one, now, task)


def _has_open() -> Q:
    return Q(tasks__status=Task.Status.OPEN, tasks__is_firm=True)


def _begin(one: Round, now: datetime, ticked: Task | None = None) -> bool:
    """Freeze the order as the pages show it; of two at once exactly one does."""
    is_first = Round.objects.filter(pk=one.pk, begun_at=None).update(begun_at=now)
    one.begun_at = now
    if not is_first:
        return False
    theirs = Q(status=Task.Status.OPEN) | Q(pk=ticked.pk if ticked else None)
    rows = Task.objects.filter(theirs, round=one, is_firm=True)
    tasks = list(rows.select_related("tree__block", "round"))
    ordered = in_walking_order(tasks, corners_for(one.site_id, tasks))
    one.order = list(dict.fromkeys(task.tree_id for task in ordered))
    Round.objects.filter(pk=one.pk).update(order=one.order)
    return True
