"""The working of a task: what decided, what to mind, where it comes from."""

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext, gettext_noop

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
        gettext_noop(
            "Reference evapotranspiration: FAO-56 Eq. 6 (Penman-Monteith) or Eq. 52 (Hargreaves)"
        ),
        gettext_noop(
            "Demand: crop coefficient times reference evapotranspiration, FAO-56 Eq. 58"
        ),
        gettext_noop("Water held and easily used: FAO-56 Eq. 82 and 83"),
        gettext_noop("Stress: FAO-56 Eq. 84"),
        gettext_noop(
            "Daily balance: FAO-56 Eq. 85 and 86, in litres of this tree's own roots"
        ),
    ),
    "feeding": (
        gettext_noop(
            "Nitrogen: between the species' first-year and full amounts, by the share of its "
            "full crown held now"
        ),
        gettext_noop(
            "Held down by what its shoots, the soil test, the soil and the pot say"
        ),
        gettext_noop("Product: nitrogen divided by the product's nitrogen content"),
        gettext_noop("Cups: product divided by its weight in a cup"),
    ),
    "flushing": (gettext_noop("Water: twice the volume of the pot"),),
    "soil": (
        gettext_noop(
            "Sulfur before planting: the smaller of two published rates by texture and pH"
        ),
        gettext_noop(
            "Sulfur round planted bushes: no more than 34 g on a square metre a year"
        ),
    ),
    "mulching": (
        gettext_noop("Depth left: exponential decay by material"),
        gettext_noop("Volume: area of the ring times the depth to add"),
    ),
    "pruning": (
        gettext_noop(
            "Window: the species' months, drawn to bud break, rains or the last picking"
        ),
        gettext_noop("Limit: a quarter of the crown a season, less what was logged"),
        gettext_noop("Height: a third of what is too much a season, a metre at least"),
    ),
    "training": (gettext_noop("Year: seasons of growth since planting"),),
    "suckers": (gettext_noop("Window: weeks after bud break"),),
    "sanitation": (
        gettext_noop("Window: winter up to bud break; weeks after full bloom"),
    ),
    "planting": (
        gettext_noop("Ball: a nursery pot of that volume, 0.85 times as deep as wide"),
        gettext_noop("Hole: two to three times the ball's width, no deeper than it"),
    ),
    "establishing": (
        gettext_noop("Length: months an inch of trunk, by hardiness zone"),
    ),
    "potting": (
        gettext_noop(
            "Demand of a hot day: crown area times crop coefficient times 6 mm"
        ),
        gettext_noop("Next pot: as deep for its width, 2 or 3 in wider"),
    ),
    "inspection": (
        gettext_noop("Window: weeks from bud break, full bloom and harvest"),
    ),
    "cold": (
        gettext_noop("Alarm: what the plant bears plus the site's margin"),
        gettext_noop(
            "Buds: share killed in 30 minutes, by stage (Penn State, Michigan State)"
        ),
        gettext_noop(
            "Tonight: minimum from air and dew point two hours after sunset, in two steps (FAO 2005)"
        ),
    ),
    "freeze": (
        gettext_noop(
            "Hours of cold: a sine by day, a logarithm by night, through lows and highs (Linvill 1990)"
        ),
        gettext_noop("Citrus fruit: below 28 °F (-2.2 °C) for four hours (UF/IFAS)"),
    ),
    "heat": (
        gettext_noop("Alarm: a forecast maximum, the same for all kinds of plant"),
        gettext_noop(
            "Dryness: saturation at the maximum less the day's vapour, FAO-56 Eq. 11, 19 and 48"
        ),
    ),
    "thinning": (gettext_noop("Window: four to seven weeks after full bloom"),),
    "harvest": (
        gettext_noop("Window: full bloom plus the days early and late kinds need"),
        gettext_noop(
            "Yield: an orchard tree's times the share of its crown held now, or of its years"
        ),
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
        equations=tuple(map(gettext, EQUATIONS.get(task.kind, ()))),
    )
