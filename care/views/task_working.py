"""The working of a task: what decided, what to mind, where it comes from."""

from dataclasses import dataclass
from datetime import date

from care.models import Task
from care.views.cautions import caution_words
from care.views.reason_words import Told
from care.views.reasons import FactRow, changes, deciding_numbers, fact_rows, sentence
from care.views.references import Reference, references
from orchard.units import UnitSystem

#: What the reckoning behind each kind of work is called in its literature.
EQUATIONS = {
    "watering": (
        "Reference evapotranspiration: FAO-56 Eq. 6 (Penman-Monteith) or Eq. 52 (Hargreaves)",
        "Demand: crop coefficient times reference evapotranspiration, FAO-56 Eq. 58",
        "Water held and easily used: FAO-56 Eq. 82 and 83",
        "Stress: FAO-56 Eq. 84",
        "Daily balance: FAO-56 Eq. 85 and 86, in litres of this tree's own roots",
    ),
    "feeding": (
        "Nitrogen: the species' full amount times the share of its full crown held now",
        "Product: nitrogen divided by the product's nitrogen content",
    ),
    "mulching": (
        "Depth left: exponential decay by material",
        "Volume: area of the ring times the depth to add",
    ),
    "pruning": ("Window: the species' months, moved half a year in the south",),
    "cold": ("Alarm: what the plant bears plus the site's margin",),
    "heat": ("Alarm: a forecast maximum, the same for all kinds of plant",),
    "thinning": ("Window: four to seven weeks after full bloom",),
    "harvest": (
        "Window: full bloom plus the days early and late kinds need",
        "Yield: an orchard tree's times the share of its crown held now",
    ),
}


@dataclass(frozen=True, slots=True)
class Working:
    """Everything the page of a task explains."""

    sentence: str
    numbers: tuple[Told, ...]
    changes: tuple[str, ...]
    cautions: tuple[str, ...]
    references: tuple[Reference, ...]
    facts: tuple[FactRow, ...]
    equations: tuple[str, ...]


def task_working(task: Task, today: date, units: UnitSystem) -> Working:
    """Return the working of one task; its tree must be at hand."""
    return Working(
        sentence=sentence(task, today, units),
        numbers=deciding_numbers(task, today, units),
        changes=changes(task),
        cautions=caution_words(task.cautions),
        references=references(task.sources, task.tree.species_key),
        facts=fact_rows(task),
        equations=EQUATIONS.get(task.kind, ()),
    )
