"""Water of many trees in one go: about so much each, or filled by whoever it was."""

from collections.abc import Iterable
from datetime import date, datetime

from django.db import transaction

from care.actions.no_water import NONE_SINCE, log_no_water
from care.actions.tasks import complete_task
from care.models import LogEntry, Task
from care.planning.simulate import UNKNOWN_AFTER_DAYS
from orchard.actions.places import raise_revision
from orchard.models import Person, Site, Tree

FILLED = "filled"  # by rain, a neighbour or a timer: full, with no amount known


@transaction.atomic
def water_all(
    *,
    site: Site,
    trees: Iterable[Tree],
    litres: float,
    person: Person | None,
    on: date,
    now: datetime,
    note: str = "",
) -> list[LogEntry]:
    """Log that every one of ``trees`` got about ``litres`` on a day.

    An open watering task whose window had begun is ticked by it; elsewhere the water
    is logged by itself and the balance decides what is still needed.
    """
    return water_each(
        site=site,
        litres=[(tree, litres) for tree in trees],
        person=person,
        on=on,
        now=now,
        note=note,
    )


@transaction.atomic
def answer_quiet_days(
    *,
    site: Site,
    litres: Iterable[tuple[Tree, float | None]],
    person: Person | None,
    on: date,
    today: date,
    now: datetime,
) -> list[LogEntry]:
    """Log what trees got on a day in a quiet time, as the question of it is answered.

    Whoever names a day more than a week ago says of the days since that there was no
    water: nobody is asked about them once more.
    """
    given = list(litres)
    entries = water_each(site=site, litres=given, person=person, on=on, now=now)
    if (today - on).days > UNKNOWN_AFTER_DAYS:
        log_no_water(
            site=site,
            trees=[tree for tree, _litres in given],
            person=person,
            on=today,
            now=now,
            word=NONE_SINCE,
        )
    return entries


@transaction.atomic
def water_each(
    *,
    site: Site,
    litres: Iterable[tuple[Tree, float | None]],
    person: Person | None,
    on: date,
    now: datetime,
    note: str = "",
) -> list[LogEntry]:
    """Log what each tree got on a day, as :func:`water_all` does.

    Without litres its soil is taken to have been filled that day, by whatever it was,
    and a task that waits is left to the plan.
    """
    waiting = {
        task.tree_id: task
        for task in Task.objects.filter(
            site=site,
            kind="watering",
            key="next",
            status=Task.Status.OPEN,
            is_firm=True,
            earliest__lte=on,
        ).select_related("tree", "site")
    }
    entries = []
    for tree, given in litres:
        task = waiting.get(tree.pk)
        if task is not None and given is not None:
            outcome = complete_task(
                task=task, person=person, on=on, now=now, amount=given, note=note
            )
            entries.append(outcome.entry)
            continue
        entries.append(
            LogEntry.objects.create(
                site=site,
                tree=tree,
                person=person,
                what=LogEntry.What.DONE,
                kind="watering",
                action="water",
                on=on,
                recorded_at=now,
                amount=given,
                unit="" if given is None else "L",
                word=FILLED if given is None else "",
                note=note,
            )
        )
    raise_revision(site)
    return entries
