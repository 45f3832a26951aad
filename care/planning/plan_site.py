"""Plan one site: gather, simulate, propose, match, rounds, write; one transaction."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import TypeVar

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from care.models import Round, Task
from care.planning.allowed_days import allowed_proposal, limits_of
from care.planning.assemble_rounds import (
    REACH_DAYS,
    Assembled,
    assemble,
    days_of_tasks,
)
from care.planning.available_days import costs_ahead, shift_days
from care.planning.gather import Records, gather
from care.planning.propose import propose
from care.planning.reconcile import (
    WRITTEN,
    Allow,
    Identity,
    Matched,
    match,
    wanted,
)
from orchard.catalogue import CATALOGUE_VERSION
from orchard.models import Site

Row = TypeVar("Row", Task, Round)
CATALOGUES_AT_HAND = (0, CATALOGUE_VERSION)  # 0: of before it was noted


@dataclass(frozen=True, slots=True)
class PlanChange:
    """How much a plan changed what was stored."""

    created: int
    changed: int
    rounds_created: int
    rounds_changed: int

    @property
    def is_nothing(self) -> bool:
        """Whether the stored plan was already right."""
        return not (
            self.created or self.changed or self.rounds_created or self.rounds_changed
        )


def ensure_planned(site: Site, today: date) -> None:
    """Plan the site unless its plan is already of this revision, day and catalogue.

    Pages call it before they read tasks.
    """
    is_of_now = site.planned_revision == site.revision and site.planned_on == today
    if is_of_now and site.planned_catalogue in CATALOGUES_AT_HAND:
        return
    plan_site(site, today, timezone.now())


@transaction.atomic
def plan_site(
    site: Site, today: date, now: datetime, *, is_fresh: bool = False
) -> PlanChange:
    """Plan as of ``today`` and write what differs.

    Walks stay on their days as far as they can; ``is_fresh``, which a person asks for,
    chooses them anew where that is worth its moves.

    The revision stored with the plan is the one read here, so that a change made
    meanwhile is planned the next time and never lost.
    """
    locked = Site.objects.select_for_update().get(pk=site.pk)
    records = gather(locked, today)
    matched = _match(locked, records)
    # Before the rounds, which tell tasks apart by their ids.
    Task.objects.bulk_create(matched.created, batch_size=500)
    assembled = _assemble(locked, records, matched, now, is_fresh=is_fresh)
    _write(matched, assembled)
    Site.objects.filter(pk=site.pk).update(
        planned_revision=records.revision,
        planned_on=today,
        planned_at=now,
        planned_catalogue=CATALOGUE_VERSION,
    )
    site.refresh_from_db(
        fields=[
            *("revision", "planned_revision", "planned_on"),
            *("planned_at", "planned_catalogue"),
        ]
    )
    return PlanChange(
        created=len(matched.created),
        changed=len(matched.changed),
        rounds_created=len(assembled.created),
        rounds_changed=len(assembled.changed),
    )


def _closed(site: Site) -> list[Identity]:
    return list(
        Task.objects.filter(
            site=site, status__in=[Task.Status.DONE, Task.Status.SKIPPED]
        )
        .exclude(key__startswith="next")
        .values_list("tree_id", "kind", "key")
    )


def _match(site: Site, records: Records) -> Matched:
    stored = (
        Task.objects.filter(
            site=site, status__in=[Task.Status.OPEN, Task.Status.WITHDRAWN]
        )
        .select_related("round")
        .order_by("id")
    )
    allow = _allower(records)
    proposals = wanted(
        propose(records), records.work, _closed(site), records.today, allow
    )
    return match(site, proposals, stored, allow)


def _allower(records: Records) -> Allow:
    """Return what moves a watering put off by a person to an allowed day."""
    limits = {tree.id: limits_of(records.site, tree) for tree in records.trees}
    return lambda put_off: allowed_proposal(
        put_off, limits[put_off.tree_id], records.today
    )


def _assemble(
    site: Site, records: Records, matched: Matched, now: datetime, *, is_fresh: bool
) -> Assembled:
    rounds = list(
        Round.objects.filter(site=site, is_withdrawn=False, day__gte=records.today)
    )
    days = days_of_tasks(
        matched.current,
        records.today,
        opening_cost=costs_ahead(site, records.today, REACH_DAYS),
        shift_days=shift_days(site, records.today),
        is_fresh=is_fresh,
    )
    trees = {tree.id: tree for tree in records.trees}
    _leave_rounds(matched, set(days))
    return assemble(site, days, trees, rounds, now)


def _leave_rounds(matched: Matched, planned: set[Task]) -> None:
    """Take tasks without a day out of their old rounds."""
    written = {task.pk for task in matched.changed}
    for task in matched.current:
        if task not in planned and task.round_id is not None:
            task.round = None
            if task.pk not in written:
                matched.changed.append(task)


def _write(matched: Matched, assembled: Assembled) -> None:
    Round.objects.bulk_create(assembled.created, batch_size=500)
    _overwrite(
        Round,
        assembled.changed,
        ("day", "sequence", "digest", "is_withdrawn", "changed_at"),
    )
    for one in assembled.ahead:
        Round.objects.filter(pk=one.pk).update(begun_at=None, order=[])
    for task in assembled.moved:
        task.round = task.round  # the round's id exists only now
    _overwrite(Task, matched.changed, (*WRITTEN, "round"))
    written = {task.pk for task in matched.changed}
    moved = [task for task in assembled.moved if task.pk not in written]
    _overwrite(Task, moved, ("round",))


def _overwrite(model: type[Row], rows: Sequence[Row], fields: Sequence[str]) -> None:
    """Write fields of rows that are stored already.

    As an insert that gives way to an update: one short line a row, where
    ``bulk_update`` writes a condition a row and field. The site is locked, so that no
    row can have been deleted meanwhile.
    """
    model._default_manager.bulk_create(
        rows,
        batch_size=500,
        update_conflicts=True,
        unique_fields=["id"],
        update_fields=fields,
    )


def stale_sites(now: datetime) -> list[Site]:
    """Return the sites whose records, catalogue or local day moved since their plan."""
    moved = set(
        Site.objects.exclude(
            planned_revision=F("revision"), planned_catalogue__in=CATALOGUES_AT_HAND
        ).values_list("pk", flat=True)
    )
    return [
        site
        for site in Site.objects.order_by("pk")
        if site.pk in moved or site.planned_on != site.today(now)
    ]
