"""The plan of a site: its drawing, what is wrong there, and where every tree stands."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_safe

from care.charts.plan_chart import PlanChart, plan_chart
from care.charts.plan_writing import NamedPlace, blocks_of
from care.facts import Conflict, LayoutFacts, PlantFacts, PlanTime, Standing
from care.planning.drawing import Drawing, drawing_of
from care.planning.gather_layout import layout_facts
from care.planning.layout_check import layout_check
from care.views.conflict_words import TITLES, conflict_words
from care.views.plan_words import (
    Names,
    feature_words,
    hours_words,
    length_words,
    lies_words,
    names_of,
    north_words,
    place_words,
    plant_words,
    scale_words,
    sun_words,
)
from care.views.references import Reference, references
from orchard.catalogue.search import called
from orchard.models import Site, WantedTree
from orchard.units import UnitSystem
from orchard.views.site_page import SitePage, let_in

TIMES = {
    PlanTime.TODAY: gettext_noop("Today"),
    PlanTime.FIVE: gettext_noop("In five years"),
    PlanTime.GROWN: gettext_noop("Grown"),
}
#: So many conflicts of a sort stand unfolded.
TOLD_AT_ONCE = 5


@dataclass(frozen=True, slots=True)
class PlanLink:
    """A time the plan can be drawn of, or a part of it to look at closer."""

    query: str
    name: str
    is_shown: bool


@dataclass(frozen=True, slots=True)
class Looked:
    """What is looked at: the plan, its corners, and the block it is cut out around."""

    layout: LayoutFacts
    drawing: Drawing
    corners: tuple[NamedPlace, ...]
    blocks: tuple[str, ...]
    near: str

    @property
    def is_empty(self) -> bool:
        """Whether nothing is on the plan yet."""
        return self.drawing.is_empty and not self.corners

    def query(self, time: PlanTime, near: str) -> str:
        """Return the address's end for a time and a part."""
        return urlencode({"when": time.value, **({"near": near} if near else {})})

    def times(self) -> list[PlanLink]:
        """Return the times, of the same part."""
        shown = self.drawing.time
        return [
            PlanLink(self.query(key, self.near), gettext(name), key is shown)
            for key, name in TIMES.items()
        ]

    def parts(self) -> list[PlanLink]:
        """Return the whole and its blocks, at the same time."""
        time = self.drawing.time
        return [
            PlanLink(
                self.query(time, near), near or gettext("All of it"), near == self.near
            )
            for near in ("", *self.blocks)
        ]


@dataclass(frozen=True, slots=True)
class ConflictGroup:
    """Conflicts of one sort: what is wrong, what to do, and who says so."""

    title: str
    do: str
    lines: tuple[str, ...]
    more: tuple[str, ...]
    references: tuple[Reference, ...]


@dataclass(frozen=True, slots=True)
class PlaceLine:
    """One plant by its number: what it is, where it stands, how wide it is then."""

    number: int
    name: str
    address: str
    kind: str
    where: str
    width: str
    sun: str


@dataclass(frozen=True, slots=True)
class UnplacedLine:
    """One plant without a place; ``key`` is what the measuring page calls it."""

    name: str
    address: str
    kind: str
    key: str


@dataclass(frozen=True, slots=True)
class PlanFigure:
    """The drawing with its words."""

    chart: PlanChart
    title: str
    caption: str
    bar: str


@require_safe
@login_required
def plan(request: HttpRequest, site: str) -> HttpResponse:
    """Show the plan for the screen, its conflicts and its places."""
    page = let_in(request, site, page="more")
    looked = _look(request, page)
    layout, drawing = looked.layout, looked.drawing
    check = layout_check(layout, water_setback_m=page.site.water_setback_m)
    names = names_of(layout.plants, drawing.plants, layout.features, page.units)
    addresses = _addresses(page.site)
    context = page.context(
        is_empty=looked.is_empty,
        figure=_figure(looked, page, is_sheet=False),
        times=looked.times(),
        parts=looked.parts() if looked.blocks else [],
        query=looked.query(drawing.time, looked.near),
        groups=_groups(check.conflicts, names, layout),
        conflicts=len(check.conflicts),
        accepted=[
            (group.name, length_words(group.height_limit_m or 0.0, page.units))
            for group in check.accepted
        ],
        places=_places(looked, page, addresses, check.sun_hours),
        unplaced=[_unplaced(plant, addresses) for plant in drawing.unplaced],
        lies=[(each.name, lies_words(each, page.units)) for each in layout.features],
    )
    return render(request, "care/plan.html", context)


@require_safe
@login_required
def plan_drawing(request: HttpRequest, site: str) -> HttpResponse:
    """Show the plan as a sheet to print, to a stated scale."""
    page = let_in(request, site, page="more")
    looked = _look(request, page)
    figure = _figure(looked, page, is_sheet=True)
    context = page.context(
        is_empty=looked.is_empty,
        figure=figure,
        time=gettext(TIMES[looked.drawing.time]),
        near=looked.near,
        times=looked.times(),
        parts=looked.parts() if looked.blocks else [],
        query=looked.query(looked.drawing.time, looked.near),
        scale=scale_words(figure.chart.ratio, page.units),
        places=_places(looked, page, {}, {}, near=looked.near),
    )
    return render(request, "care/plan_drawing.html", context)


def _look(request: HttpRequest, page: SitePage) -> Looked:
    layout = layout_facts(page.site, page.today)
    corners = tuple(
        NamedPlace(corner.name, (corner.x_m, corner.y_m))
        for corner in page.site.corners.all()
    )
    wanted = request.GET.get("when", "")
    time = PlanTime(wanted) if wanted in set(PlanTime) else PlanTime.TODAY
    drawing = drawing_of(layout, time, page.today)
    blocks = tuple(block.name for block in blocks_of(drawing))
    near = request.GET.get("near", "")
    return Looked(layout, drawing, corners, blocks, near if near in blocks else "")


def _figure(looked: Looked, page: SitePage, *, is_sheet: bool) -> PlanFigure:
    units, layout = page.units, looked.layout
    chart = plan_chart(
        looked.drawing,
        looked.corners,
        {each.id: feature_words(each, units) for each in layout.features},
        in_feet=units is UnitSystem.US,
        is_sheet=is_sheet,
        near=looked.near,
    )
    north = north_words(layout.up_bearing_deg)
    sun = sun_words(layout.up_bearing_deg, layout.latitude_deg)
    grid = length_words(chart.grid_step_m, units)
    return PlanFigure(
        chart=chart,
        title=gettext("Plan of {name}: {time}").format(
            name=looked.near or page.site.name,
            time=gettext(TIMES[looked.drawing.time]).lower(),
        ),
        caption=gettext(
            "North is {north}. {sun} A square of the grid is {grid} wide."
        ).format(north=north, sun=sun, grid=grid),
        bar=length_words(chart.bar.length_m, units),
    )


def _groups(
    conflicts: Sequence[Conflict], names: Names, layout: LayoutFacts
) -> list[ConflictGroup]:
    """Return conflicts by their sort, in their order; one thing to do for each sort."""
    species = {plant.ref: plant.species.key for plant in layout.plants}
    sorts: dict[tuple[str, str], list[tuple[Conflict, str]]] = {}
    for conflict in conflicts:
        told = conflict_words(conflict, names)
        sorts.setdefault((conflict.code, told.do), []).append((conflict, told.what))
    return [
        ConflictGroup(
            title=gettext(TITLES[code]),
            do=do,
            lines=tuple(what for _, what in some[:TOLD_AT_ONCE]),
            more=tuple(what for _, what in some[TOLD_AT_ONCE:]),
            references=tuple(
                dict.fromkeys(
                    one
                    for conflict, _ in some
                    for one in _references(conflict, species)
                )
            ),
        )
        for (code, do), some in sorts.items()
    ]


def _references(
    conflict: Conflict, species: Mapping[str, str]
) -> tuple[Reference, ...]:
    """Return what a distance rests on; that of a pair on figures of either kind."""
    kinds = [species.get(ref) for ref in (conflict.who, conflict.whom)]
    found: dict[str, tuple[Reference, ...]] = {}
    for key in conflict.sources:
        by_kind = [references([key], kind) for kind in kinds if kind]
        found[key] = next(
            (each for each in by_kind if any(one.address for one in each)), by_kind[0]
        )
    return tuple(dict.fromkeys(one for each in found.values() for one in each))


def _addresses(site: Site) -> Mapping[str, str]:
    """Return the pages of our trees and of those wanted, by their refs."""
    wanted = WantedTree.objects.filter(planting__site=site, tree=None)
    return {
        f"{standing}-{pk}": reverse(name, args=[site.slug, public_id])
        for standing, name, rows in (
            (Standing.OURS, "tree", site.trees),
            (Standing.WANTED, "wanted_sheet", wanted),
        )
        for pk, public_id in rows.values_list("pk", "public_id")
    }


def _places(
    looked: Looked,
    page: SitePage,
    addresses: Mapping[str, str],
    sun_hours: Mapping[str, float],
    *,
    near: str = "",
) -> list[PlaceLine]:
    measured_from = [(corner.name, corner.place_m) for corner in looked.corners]
    return [
        PlaceLine(
            number=each.number,
            name=plant_words(each.plant),
            address=addresses.get(each.plant.ref, ""),
            kind=(
                gettext("{kind}, wanted").format(kind=called(each.plant.species.name))
                if each.plant.standing is Standing.WANTED
                else called(each.plant.species.name)
            ),
            where=place_words(
                each.plant.place_m or (0.0, 0.0), measured_from, page.units
            ),
            width=length_words(each.width_m, page.units),
            sun=hours_words(sun_hours.get(each.plant.ref)),
        )
        for each in looked.drawing.plants
        if not near or each.plant.block_name == near
    ]


def _unplaced(plant: PlantFacts, addresses: Mapping[str, str]) -> UnplacedLine:
    return UnplacedLine(
        name=plant_words(plant),
        address=addresses.get(plant.ref, ""),
        kind=called(plant.species.name),
        key=plant.ref.replace(f"{Standing.OURS}-", "tree-"),
    )
