"""Places proposed for the trees of a planting: look, keep, try again, take back."""

from dataclasses import dataclass

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext, gettext_noop, ngettext
from django.views.decorators.http import require_POST, require_safe

from care.actions.placing import PlacedById, keep_places, take_places_back
from care.charts.plan_chart import plan_chart
from care.charts.plan_writing import NamedPlace
from care.facts import FeatureKind, LayoutFacts, PlanTime
from care.forms.placing import MOST_ATTEMPTS, PlacingForm
from care.planning.drawing import Drawing, drawing_of
from care.planning.fit_site import fit_site
from care.planning.gather_layout import layout_facts
from care.planning.kinds import kinds_of
from care.planning.placing import (
    MOST_TREES,
    Goal,
    PlacingPlan,
    Proposal,
    placing_plan,
    wanted_ref,
)
from care.views.placing_words import (
    closeness_words,
    partner_line,
    why_not_words,
)
from care.views.plan import PlanFigure
from care.views.plan_words import (
    feature_words,
    length_words,
    north_words,
    place_words,
    sun_words,
)
from orchard.access import May
from orchard.catalogue.search import called
from orchard.models import Planting, WantedTree
from orchard.units import UnitSystem
from orchard.views.site_page import SitePage, let_in

CHANGED = gettext_noop(
    "Something on the plan changed meanwhile, so other places are proposed now. "
    "Nothing was kept: look at them again."
)
#: In the session, what taking the last places back needs, by planting.
TAKE_BACK = "places_kept"


@dataclass(frozen=True, slots=True)
class PlacingLine:
    """One tree of the planting: where it would go, and what is to say about it."""

    public_id: str
    number: int | None
    name: str
    kind: str
    where: str
    why_not: str
    close: str
    partner: str


@dataclass(frozen=True, slots=True)
class Question:
    """A planting's wanted trees, the form that was sent, and what is proposed."""

    planting: Planting
    form: PlacingForm
    goal: Goal
    attempt: int
    rows: dict[str, WantedTree]
    plan: PlacingPlan


@require_safe
@login_required
def placing(request: HttpRequest, site: str, planting: object) -> HttpResponse:
    """Show places for the trees of a planting that have none kept."""
    page = let_in(request, site, May.EDIT, page="more")
    question = _question(page, planting, request.GET)
    plan, layout = question.plan, question.plan.layout
    drawing = drawing_of(layout, PlanTime.GROWN, page.today)
    corners = [
        NamedPlace(one.name, (one.x_m, one.y_m)) for one in page.site.corners.all()
    ]
    lines = _lines(question, drawing, corners, page.units)
    context = page.context(
        planting=question.planting,
        form=question.form,
        attempt=question.attempt,
        next_attempt=(question.attempt + 1) % (MOST_ATTEMPTS + 1),
        goal=question.goal,
        digest=plan.digest,
        has_room=_has_room(layout),
        has_corners=bool(corners),
        most=MOST_TREES,
        placed=[line for line in lines if line.where],
        left_out=[line for line in lines if not line.where],
        pinned=_pinned(question, drawing, corners, page.units),
        figure=_figure(drawing, corners, page) if not drawing.is_empty else None,
        places=drawing.plants,
        can_take_back=_kept_key(question.planting) in _kept(request),
    )
    return render(request, "care/placing.html", context)


@require_POST
@login_required
def placing_keep(request: HttpRequest, site: str, planting: object) -> HttpResponse:
    """Keep the places that were ticked, and let go the kept ones that were not."""
    page = let_in(request, site, May.EDIT)
    question = _question(page, planting, request.POST)
    if request.POST.get("digest") != question.plan.digest:
        messages.error(request, gettext(CHANGED))
        return _back(page, question)
    ticked, staying = set(request.POST.getlist("keep")), request.POST.getlist("stay")
    places = {
        str(question.rows[each.ref].public_id): each.place_m
        for each in question.plan.placed
        if each.place_m and str(question.rows[each.ref].public_id) in ticked
    }
    pinned = {str(question.rows[each.ref].public_id) for each in question.plan.pinned}
    before, after = keep_places(
        planting=question.planting,
        places=places,
        released=pinned - set(staying),
        person=page.person,
    )
    if not after:
        messages.info(request, gettext("No place was ticked, so nothing was kept."))
        return _back(page, question)
    request.session[TAKE_BACK] = {_kept_key(question.planting): (before, after)}
    messages.success(request, _kept_words(len(places), len(after) - len(places)))
    return _back(page, question)


@require_POST
@login_required
def placing_back(request: HttpRequest, site: str, planting: object) -> HttpResponse:
    """Take the places back that were kept last."""
    page = let_in(request, site, May.EDIT)
    row = _planting(page, planting)
    kept = _kept(request).get(_kept_key(row))
    request.session.pop(TAKE_BACK, None)
    if kept is None:
        messages.error(request, gettext("There are no places to take back any more."))
        return redirect("placing", page.site.slug, row.public_id)
    before, after = kept
    count = take_places_back(
        planting=row, before=before, after=after, person=page.person
    )
    said = (
        gettext("Took back {count} of {number}.").format(count=count, number=len(after))
        if count
        else gettext("Nothing was taken back.")
    )
    if count != len(after):
        said = f"{said} " + gettext("The others were changed since.")
    messages.success(request, said)
    return redirect("placing", page.site.slug, row.public_id)


def _planting(page: SitePage, public_id: object) -> Planting:
    rows = page.site.plantings.select_related("site__orchard")
    return get_object_or_404(rows, public_id=public_id)


def _question(page: SitePage, public_id: object, data: QueryDict) -> Question:
    row = _planting(page, public_id)
    form = PlacingForm(data if "goal" in data else None)
    goal, attempt = form.chosen()
    wanted = {wanted_ref(one.pk): one for one in row.wanted.filter(tree=None)}
    plan = placing_plan(
        layout_facts(page.site, page.today),
        kinds_of(page.site.orchard),
        wanted,
        goal=goal,
        attempt=attempt,
        water_setback_m=page.site.water_setback_m,
        fit=fit_site(page.site, page.today) if goal is Goal.BEST else None,
    )
    return Question(row, form, goal, attempt, wanted, plan)


def _back(page: SitePage, question: Question) -> HttpResponse:
    """Return to the places for what was asked, whatever try it was."""
    address = reverse("placing", args=[page.site.slug, question.planting.public_id])
    return redirect(f"{address}?goal={question.goal}")


def _kept_key(planting: Planting) -> str:
    return str(planting.public_id)


def _kept(request: HttpRequest) -> dict[str, tuple[PlacedById, PlacedById]]:
    """Return what was kept last, as the session has it: lists in place of tuples."""
    return dict(request.session.get(TAKE_BACK, {}))


def _kept_words(places: int, released: int) -> str:
    said = []
    if places:
        said.append(
            ngettext("Kept {places} place.", "Kept {places} places.", places).format(
                places=places
            )
        )
    if released:
        said.append(
            ngettext(
                "{released} may be moved again.",
                "{released} may be moved again.",
                released,
            ).format(released=released)
        )
    return " ".join(said)


def _has_room(layout: LayoutFacts) -> bool:
    return bool(layout.of_kind(FeatureKind.FREE, FeatureKind.BOUNDARY))


def _lines(
    question: Question,
    drawing: Drawing,
    corners: list[NamedPlace],
    units: UnitSystem,
) -> list[PlacingLine]:
    return [
        _line(proposal, question, drawing, corners, units)
        for proposal in question.plan.proposals
    ]


def _line(
    proposal: Proposal,
    question: Question,
    drawing: Drawing,
    corners: list[NamedPlace],
    units: UnitSystem,
) -> PlacingLine:
    plan, row = question.plan, question.rows[proposal.ref]
    numbers = {each.plant.ref: each.number for each in drawing.plants}
    kinds = {plant.ref: called(plant.species.name) for plant in plan.layout.plants}
    return PlacingLine(
        public_id=str(row.public_id),
        number=numbers.get(proposal.ref),
        name=row.name,
        kind=kinds[proposal.ref],
        where=_where(proposal.place_m, corners, units),
        why_not=why_not_words(proposal, plan.layout),
        close=closeness_words(proposal, plan.layout, units),
        partner=partner_line(proposal, plan, units),
    )


def _where(
    place_m: tuple[float, float] | None, corners: list[NamedPlace], units: UnitSystem
) -> str:
    if place_m is None:
        return ""
    named = [(corner.name, corner.place_m) for corner in corners]
    return place_words(place_m, named, units)


def _pinned(
    question: Question,
    drawing: Drawing,
    corners: list[NamedPlace],
    units: UnitSystem,
) -> list[PlacingLine]:
    numbers = {each.plant.ref: each.number for each in drawing.plants}
    return [
        PlacingLine(
            public_id=str(question.rows[plant.ref].public_id),
            number=numbers.get(plant.ref),
            name=plant.name,
            kind=called(plant.species.name),
            where=_where(plant.place_m, corners, units),
            why_not="",
            close="",
            partner="",
        )
        for plant in question.plan.pinned
    ]


def _figure(drawing: Drawing, corners: list[NamedPlace], page: SitePage) -> PlanFigure:
    units, layout = page.units, drawing.layout
    chart = plan_chart(
        drawing,
        corners,
        {each.id: feature_words(each, units) for each in layout.features},
        in_feet=units is UnitSystem.US,
    )
    north = north_words(layout.up_bearing_deg)
    sun = sun_words(layout.up_bearing_deg, layout.latitude_deg)
    return PlanFigure(
        chart=chart,
        title=gettext("Plan of {name} with the places proposed, trees grown").format(
            name=page.site.name
        ),
        caption=gettext("Trees are drawn grown. North is {north}. {sun}").format(
            north=north, sun=sun
        ),
        bar=length_words(chart.bar.length_m, units),
    )
