"""What can be said in a tap or two beside a task: readings, stages, measures, weights."""

from dataclasses import dataclass
from datetime import date

from django.forms import BoundField

from care.facts import SpeciesFacts
from care.forms.trees import HarvestForm, MeasureForm, measures_of
from care.models import Task
from care.planning.bloom_stages import reportable_stages
from care.views.bbch import bbch_code
from care.views.stage_words import stage_words
from care.views.wording import reason_of
from orchard.forms.weather import ReadingForm
from orchard.units import UnitSystem
from orchard.views.site_page import SitePage

#: What is worth measuring while a task of this kind waits.
MEASURED = {
    "feeding": ("shoot_growth_mm",),
    "establishing": ("shoot_growth_mm",),
    "mulching": ("mulch_depth_mm", "trunk_gap_mm"),
}
READ = {"watering": ("rain_mm",), "cold": ("tmin_c",), "freeze": ("tmin_c",)}
#: What a task says would change it, where a stage of the buds is meant.
STAGE_SEEN = frozenset({"stage_seen", "bloom_seen", "bud_break_seen"})


@dataclass(frozen=True, slots=True)
class StageButton:
    """One stage of buds and bloom to tap, with its code for those who know it."""

    word: str
    label: str
    code: str


@dataclass(frozen=True, slots=True)
class Beside:
    """What a task's page offers to say beside the tick."""

    measures: tuple[tuple[str, MeasureForm], ...]
    stages: tuple[StageButton, ...]
    reading: tuple[BoundField, ...]
    harvest: HarvestForm | None


def stage_buttons(species: SpeciesFacts) -> tuple[StageButton, ...]:
    """Return the stages to tap for a tree of a species, in the order of the season."""
    group = species.feed_group
    return tuple(
        StageButton(stage, stage_words(stage).capitalize(), bbch_code(stage, group))
        for stage in reportable_stages(species)
    )


def reading_fields(
    page: SitePage, *names: str, marked: str = "reading"
) -> tuple[BoundField, ...]:
    """Return the boxes of a reading made at the place: its day and what was read.

    ``marked`` keeps the boxes of two such forms on one page apart.
    """
    form = ReadingForm(
        units=page.units,
        today=page.today,
        known=_nothing_typed,
        initial={"day": page.today},
        auto_id=f"{marked}_%s",
    )
    return tuple(form[name] for name in ("day", *names))


def _nothing_typed(day: date) -> tuple[None, None]:
    """Return no extremes: an empty form has nothing to compare."""
    del day
    return (None, None)


def beside_task(page: SitePage, task: Task, species: SpeciesFacts) -> Beside | None:
    """Return what may be said beside an open task; None for whoever may not."""
    if not page.may_tick or task.status != Task.Status.OPEN:
        return None
    tree = task.tree
    kinds = set(MEASURED.get(task.kind, ())) & set(measures_of(tree, page.today))
    says_stage = STAGE_SEEN & set(reason_of(task).would_change)
    read = READ.get(task.kind, ())
    is_picking = (task.kind, task.action) == ("harvest", "pick") and task.is_firm
    return Beside(
        measures=_measures(MEASURED.get(task.kind, ()), kinds, page.units),
        stages=stage_buttons(species) if says_stage else (),
        reading=reading_fields(page, *read) if read else (),
        harvest=HarvestForm(today=page.today, units=page.units) if is_picking else None,
    )


def _measures(
    order: tuple[str, ...], kinds: set[str], units: UnitSystem
) -> tuple[tuple[str, MeasureForm], ...]:
    return tuple(
        (what, MeasureForm(what=what, units=units)) for what in order if what in kinds
    )
