"""What was ticked on a planting sheet, in the log of the tree it is about."""

from datetime import date, datetime

from care.actions.logbook import observe
from care.actions.tree_changes import write_on_tree
from care.models import LogEntry, PlantingStep
from care.planning.planting_sheet import KIND, TASKS, season_at
from orchard.actions.places import raise_revision
from orchard.models import Person, Tree, WantedTree


def carry_ticks(*, wanted: WantedTree, tree: Tree) -> None:
    """Write what was ticked before a wanted tree had its row into the row's log.

    Part of an action: the log then begins before the hole is dug.
    """
    told = LogEntry.objects.filter(tree=tree, voided_at=None)
    for step in wanted.steps.filter(code__in=TASKS):
        moment = told.filter(recorded_at=step.recorded_at)
        if step.code == "drainage" and step.amount is not None:
            if not moment.filter(kind="drainage_hours").exists():
                observe_hours(tree, step)
        elif not moment.filter(kind=KIND, action=TASKS[step.code]).exists():
            write_done(tree, step)


def observe_hours(tree: Tree, step: PlantingStep) -> None:
    """Write in how many hours a test hole drained; the tree then knows it too."""
    observe(
        tree=tree,
        what="drainage_hours",
        value=step.amount,
        person=step.person,
        on=step.on,
        now=step.recorded_at,
    )


def write_done(tree: Tree, step: PlantingStep) -> None:
    """Write that a step was done which is work of a planned tree too."""
    season = season_at(tree.site, tree.planted_on or tree.entered_on)
    LogEntry.objects.create(
        site_id=tree.site_id,
        tree=tree,
        person=step.person,
        what=LogEntry.What.DONE,
        kind=KIND,
        key=f"{season}/{TASKS[step.code]}",
        action=TASKS[step.code],
        on=step.on,
        recorded_at=step.recorded_at,
    )
    raise_revision(tree.site)


def write_guard(tree: Tree, person: Person | None, on: date, now: datetime) -> None:
    """Write that a standing tree got its guard; the plan then asks for it no more."""
    LogEntry.objects.create(
        site_id=tree.site_id,
        tree=tree,
        person=person,
        what=LogEntry.What.DONE,
        kind="weeding",
        key="next/guard",
        action="fit_guard",
        on=on,
        recorded_at=now,
        before=write_on_tree(tree, has_trunk_guard=True),
    )
