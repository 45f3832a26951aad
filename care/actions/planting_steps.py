"""A planting sheet: steps ticked and unticked, and the tree that stands in the end."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.db import transaction

from care.actions.planting_log import (
    carry_ticks,
    observe_hours,
    write_done,
    write_guard,
)
from care.actions.plantings import COPIED, plan_tree
from care.actions.same_job import lock_trees
from care.actions.tasks import complete_task, take_back
from care.actions.tree_changes import write_on_tree
from care.models import LogEntry, PlantingStep, Task
from care.planning.planting_sheet import (
    KIND,
    TASKS,
    WATERS,
    Sheet,
    season_at,
    sheets_of,
    usual_backfill_at,
    wanted_of,
)
from orchard.actions.audit import note
from orchard.actions.places import raise_revision
from orchard.models import Person, Planting, Site, Tree, WantedTree

PLANNED_TREES = "Planned trees"
DONE = LogEntry.What.DONE
#: What is known of a tree since it is new.
NEVER_BEFORE = ("fed_before", "pruned_before", "mulched_before")
#: The work that standing writes of a step that was ticked before.
WRITTEN = {
    **dict.fromkeys(WATERS, "watering"),
    "mulch_ring": "mulching",
    "first_feed": "feeding",
    "trunk_guard": "weeding",
}


class StandsAlreadyError(Exception):
    """The tree was not planned: it stood when it was entered."""


@dataclass(frozen=True, slots=True)
class Said:
    """Who says what happened, of which day, at which moment."""

    person: Person | None
    on: date
    now: datetime


@transaction.atomic
def tick_step(
    *, wanted: WantedTree, code: str, said: Said, amount: float | None = None
) -> tuple[PlantingStep, bool]:
    """Tick a step of a sheet, once: a second person's tick finds the first one's.

    ``amount`` is what was measured or given, in the step's SI unit. Of a planned tree
    the call for marks and the test of drainage tick their tasks too; of one that stands
    already mulch, water and feed go straight into its log. The plan reads no other
    step, so that it stays fresh.

    Returns
    -------
    tuple of PlantingStep and bool
        The step, and whether this call wrote it.
    """
    row = _locked(wanted)
    step, is_new = PlantingStep.objects.get_or_create(
        wanted=row,
        code=code,
        defaults={
            "on": said.on,
            "person": said.person,
            "recorded_at": said.now,
            "amount": amount,
        },
    )
    if is_new and row.tree is not None:
        _tell_log(row.tree, step)
        if _planting(row.tree_id) is not None:
            _write_late(row, row.tree, step, said)
    return step, is_new


@transaction.atomic
def untick_step(
    *, wanted: WantedTree, code: str, person: Person | None, now: datetime
) -> bool:
    """Take a tick back, and what it wrote into the log; whether there was one."""
    row = _locked(wanted)
    step = PlantingStep.objects.filter(wanted=row, code=code).first()
    if step is None:
        return False
    told = LogEntry.objects.filter(
        tree=row.tree_id or 0,
        recorded_at=step.recorded_at,
        voided_at=None,
    ).exclude(action="plant")
    for entry in told.select_related("task", "tree", "site"):
        take_back(entry=entry, person=person, now=now)
    step.delete()
    _untell_planting(row, step, person, now)
    note(
        orchard=row.planting.site.orchard,
        person=person,
        what="planting_step_unticked",
        subject=row.name,
        before={"step": code},
        now=now,
    )
    return True


def _untell_planting(
    row: WantedTree, step: PlantingStep, person: Person | None, now: datetime
) -> None:
    """Take back what standing wrote of a step that had been ticked before."""
    planting, kind = _planting(row.tree_id), WRITTEN.get(step.code)
    if planting is None or kind is None or step.recorded_at > planting.recorded_at:
        return
    written = LogEntry.objects.filter(
        tree=row.tree_id or 0,
        kind=kind,
        recorded_at=planting.recorded_at,
        voided_at=None,
    )
    for entry in written.select_related("task", "tree", "site"):
        take_back(entry=entry, person=person, now=now)
    waters = row.steps.filter(
        code__in=WATERS, amount__isnull=False, recorded_at__lte=planting.recorded_at
    )
    if row.tree is not None and kind == "watering" and waters:
        # The two waterings were written as one.
        litres = sum(each.amount or 0.0 for each in waters)
        _water(
            row.tree, litres, Said(planting.person, planting.on, planting.recorded_at)
        )


def _tell_log(tree: Tree, step: PlantingStep) -> None:
    """Tick the task of a planned tree that a step answers, or write it down at least."""
    action = TASKS.get(step.code)
    if action is None:
        return
    task = _open_task(tree, action)
    if task is not None and task.is_firm:
        complete_task(
            task=task,
            person=step.person,
            on=step.on,
            now=step.recorded_at,
            amount=step.amount,
        )
    elif step.code == "drainage" and step.amount is not None:
        observe_hours(tree, step)
    else:
        write_done(tree, step)


@transaction.atomic
def stand(*, wanted: WantedTree, said: Said, today: date) -> LogEntry:
    """Write that a tree stands: its row, its facts, its log, from the day it went in.

    In one go: the planting (which closes its task), the mulch, the guard, the water and
    the feed that were ticked. Steps nobody ticked are left out of it. Taking the planting back
    in the log takes all of that back. Said twice, or by two people, it is one planting.

    Parameters
    ----------
    wanted : WantedTree
    said : Said
        ``on`` is the day it was planted, today or before.
    today : date

    Returns
    -------
    LogEntry
        The planting.
    """
    row = _locked(wanted)
    standing = _planting(row.tree_id)
    if standing is not None:
        return standing
    tree = row.tree or _planned(row, said, today)
    lock_trees([tree.pk])
    sheet = _sheet(row, today)
    carry_ticks(wanted=row, tree=tree)
    entry = _plant(tree, said)
    if "mulch_ring" in sheet.ticks:
        _mulch(tree, sheet, said)
    if sheet.given_l is not None:
        _water(tree, sheet.given_l, said)
    if "first_feed" in sheet.ticks:
        _feed(tree, sheet, said)
    if "trunk_guard" in sheet.ticks:
        write_guard(tree, said.person, said.on, said.now)
    row.plant_on = said.on
    row.save(update_fields=["plant_on"])
    raise_revision(tree.site)
    wanted.tree, wanted.plant_on = tree, said.on
    return entry


@transaction.atomic
def want_planned(*, tree: Tree, today: date, person: Person | None) -> WantedTree:
    """Return the wish behind a planned tree, made where it was entered without one.

    Raises
    ------
    StandsAlreadyError
        It is not planned: it stood already when it was entered.
    """
    lock_trees([tree.pk])
    known = WantedTree.objects.filter(tree=tree).first()
    if known is not None:
        return known
    if tree.planted_on is None or tree.planted_on <= tree.entered_on:
        raise StandsAlreadyError(tree.name)
    made = WantedTree(
        planting=_planned_trees(tree.site, today),
        tree=tree,
        plant_on=tree.planted_on,
        backfill=usual_backfill_at(tree.site, tree.species_key),
        **{name: getattr(tree, name) for name in COPIED},
    )
    made.save()
    note(
        orchard=tree.site.orchard,
        person=person,
        what="planting_sheet_made",
        subject=tree.name,
    )
    return made


def _planned_trees(site: Site, today: date) -> Planting:
    planting, _ = Planting.objects.get_or_create(
        site=site, name=PLANNED_TREES, defaults={"begun_on": today}
    )
    if planting.is_put_away:
        planting.is_put_away = False
        planting.save(update_fields=["is_put_away"])
    return planting


def _locked(wanted: WantedTree) -> WantedTree:
    return WantedTree.objects.select_for_update().get(pk=wanted.pk)


def _planting(tree_id: int | None) -> LogEntry | None:
    planted = LogEntry.objects.filter(
        tree_id=tree_id or 0, what=DONE, kind=KIND, action="plant", voided_at=None
    )
    return planted.first()


def _planned(row: WantedTree, said: Said, today: date) -> Tree:
    """Return the row of a tree that had none.

    It is planned first, so that taking its planting back leaves it planned.
    """
    day = max(row.plant_on or today, today + timedelta(days=1))
    return plan_tree(wanted=row, on=day, today=today, person=said.person)


def _sheet(row: WantedTree, today: date) -> Sheet:
    site = row.planting.site
    return sheets_of(site, wanted_of(site).filter(pk=row.pk), today)[0]


def _open_task(tree: Tree, action: str) -> Task | None:
    return (
        Task.objects.filter(
            tree=tree, kind=KIND, action=action, status=Task.Status.OPEN
        )
        .select_related("tree", "site")
        .first()
    )


def _plant(tree: Tree, said: Said) -> LogEntry:
    """Write the planting, with its task where the plan has one."""
    task = _open_task(tree, "plant")
    if task is None:
        entry = LogEntry.objects.create(
            site_id=tree.site_id,
            tree=tree,
            person=said.person,
            what=DONE,
            kind=KIND,
            key=f"{season_at(tree.site, said.on)}/plant",
            action="plant",
            on=said.on,
            recorded_at=said.now,
            before=write_on_tree(tree, planted_on=said.on),
        )
    else:
        # It stands, whether or not anybody asked where lines lie.
        Task.objects.filter(pk=task.pk).update(is_firm=True)
        task.tree = tree
        entry = complete_task(
            task=task, person=said.person, on=said.on, now=said.now
        ).entry
    changed = write_on_tree(tree, **dict.fromkeys(NEVER_BEFORE, Tree.Known.NO))
    if changed:
        entry.before = {**(entry.before or {}), **changed}
        entry.save(update_fields=["before"])
    return entry


def _write_late(row: WantedTree, tree: Tree, step: PlantingStep, said: Said) -> None:
    """Write what was ticked only after somebody said that the tree stands."""
    if step.code in WATERS and step.amount is not None:
        _water(tree, step.amount, said)
    elif step.code in ("mulch_ring", "first_feed"):
        sheet = _sheet(row, said.on)
        write = _mulch if step.code == "mulch_ring" else _feed
        write(tree, sheet, said)
    elif step.code == "trunk_guard" and not tree.has_trunk_guard:
        write_guard(tree, said.person, said.on, said.now)
    raise_revision(tree.site)


def _companion(tree: Tree, said: Said, **values: object) -> LogEntry:
    """Write what was done along with the planting; it is taken back with it."""
    return LogEntry.objects.create(
        site_id=tree.site_id,
        tree=tree,
        person=said.person,
        what=DONE,
        on=said.on,
        recorded_at=said.now,
        **values,
    )


def _mulch(tree: Tree, sheet: Sheet, said: Said) -> None:
    ring, material = sheet.wish.ring, sheet.wish.mulch_material
    _companion(
        tree,
        said,
        kind="mulching",
        key=f"{season_at(tree.site, said.on)}/planting",
        action="top_up",
        amount=float(round(ring.mulch_l)),
        unit="L",
        before=write_on_tree(
            tree,
            floor=Tree.Floor.MULCH,
            mulch_material=material,
            mulch_depth_mm=ring.depth_mm,
            mulch_laid_on=said.on,
            mulch_ring_radius_m=round(ring.radius_m, 3),
            trunk_gap_mm=ring.gap_mm,
        ),
    )


def _water(tree: Tree, litres: float, said: Said) -> None:
    _companion(
        tree,
        said,
        kind="watering",
        action="water",
        amount=round(litres, 1),
        unit="L",
    )


def _feed(tree: Tree, sheet: Sheet, said: Said) -> None:
    feed = sheet.wish.feed
    if feed is None:
        return
    _companion(
        tree,
        said,
        kind="feeding",
        key=f"{season_at(tree.site, said.on)}/planting",
        action="feed",
        amount=round(feed.product_g, 1),
        unit="g",
        nitrogen_g=round(feed.nitrogen_g, 2),
    )
