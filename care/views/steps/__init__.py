"""The reckoning behind each kind of work, step by step, from its stored reason."""

from collections.abc import Callable
from dataclasses import replace

from care.models import Task
from care.views.steps import (
    cold_steps,
    feeding_steps,
    flushing_steps,
    harvest_steps,
    mulching_steps,
    potting_steps,
    soil_steps,
    watering_steps,
)
from care.views.steps.step import Ledger, Step
from care.views.wording import reason_of
from orchard.catalogue import Species

FILL: dict[str, Callable[[Ledger], None]] = {
    "watering": watering_steps.fill,
    "feeding": feeding_steps.fill,
    "mulching": mulching_steps.fill,
    "cold": cold_steps.fill,
    "harvest": harvest_steps.fill,
    "potting": potting_steps.fill,
    "soil": soil_steps.fill,
    "flushing": flushing_steps.fill,
}


def steps_of(task: Task, species: Species | None) -> tuple[Step, ...]:
    """Return the steps that led to a task's day and amount.

    ``species`` is its tree's, as the orchard has it. Kinds decided by a date or by what was seen, and not by a sum, have none.
    """
    fill = FILL.get(task.kind)
    if fill is None:
        return ()
    reason = reason_of(task)
    amount = ("task_amount", task.amount)
    ledger = Ledger(replace(reason, facts=(*reason.facts, amount)), species)
    fill(ledger)
    return tuple(ledger.steps)
