"""The working of a task: what decided, what to mind, where it comes from."""

from dataclasses import dataclass
from datetime import date

from care.models import Task
from care.views.cautions import caution_words
from care.views.check_lists import check_list
from care.views.reason_words import Told
from care.views.reasons import changes, deciding_numbers, sentence
from care.views.references import Reference, references
from orchard.catalogue import Species
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
        "Nitrogen: between the species' first-year and full amounts, by the share of its "
        "full crown held now",
        "Held down by what its shoots, the soil test, the soil and the pot say",
        "Product: nitrogen divided by the product's nitrogen content",
        "Cups: product divided by its weight in a cup",
    ),
    "flushing": ("Water: twice the volume of the pot",),
    "soil": (
        "Sulfur before planting: the smaller of two published rates by texture and pH",
        "Sulfur round planted bushes: no more than 34 g on a square metre a year",
    ),
    "mulching": (
        "Depth left: exponential decay by material",
        "Volume: area of the ring times the depth to add",
    ),
    "pruning": (
        "Window: the species' months, drawn to bud break, rains or the last picking",
        "Limit: a quarter of the crown a season, less what was logged",
        "Height: a third of what is too much a season, a metre at least",
    ),
    "training": ("Year: seasons of growth since planting",),
    "suckers": ("Window: weeks after bud break",),
    "sanitation": ("Window: winter up to bud break; weeks after full bloom",),
    "planting": (
        "Ball: a nursery pot of that volume, 0.85 times as deep as wide",
        "Hole: two to three times the ball's width, no deeper than it",
    ),
    "establishing": ("Length: months an inch of trunk, by hardiness zone",),
    "potting": (
        "Demand of a hot day: crown area times crop coefficient times 6 mm",
        "Next pot: as deep for its width, 2 or 3 in wider",
    ),
    "inspection": ("Window: weeks from bud break, full bloom and harvest",),
    "cold": (
        "Alarm: what the plant bears plus the site's margin",
        "Buds: share killed in 30 minutes, by stage (Penn State, Michigan State)",
        "Tonight: minimum from air and dew point two hours after sunset, in two steps (FAO 2005)",
    ),
    "freeze": (
        "Hours of cold: a sine by day, a logarithm by night, through lows and highs (Linvill 1990)",
        "Citrus fruit: below 28 °F (-2.2 °C) for four hours (UF/IFAS)",
    ),
    "heat": (
        "Alarm: a forecast maximum, the same for all kinds of plant",
        "Dryness: saturation at the maximum less the day's vapour, FAO-56 Eq. 11, 19 and 48",
    ),
    "thinning": ("Window: four to seven weeks after full bloom",),
    "harvest": (
        "Window: full bloom plus the days early and late kinds need",
        "Yield: an orchard tree's times the share of its crown held now, or of its years",
    ),
}


@dataclass(frozen=True, slots=True)
class Working:
    """Everything the page of a task explains."""

    sentence: str
    numbers: tuple[Told, ...]
    changes: tuple[str, ...]
    cautions: tuple[str, ...]
    checks: tuple[str, ...]
    references: tuple[Reference, ...]
    equations: tuple[str, ...]


def task_working(
    task: Task, today: date, units: UnitSystem, species: Species | None
) -> Working:
    """Return the working of one task; its tree must be at hand.

    ``species`` is the tree's, as the orchard has it.
    """
    return Working(
        sentence=sentence(task, today, units),
        numbers=deciding_numbers(task, today, units),
        changes=changes(task),
        cautions=caution_words(task.cautions),
        checks=check_list(task),
        references=references(task.sources, species),
        equations=EQUATIONS.get(task.kind, ()),
    )
