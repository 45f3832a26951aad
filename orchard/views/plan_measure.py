"""The tape-measure list: where each tree of a site stands."""

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_POST, require_safe

from orchard.access import May
from orchard.actions.plan_places import Placing, clear_place, put_plants
from orchard.forms.plan_fields import OnPlanForm
from orchard.forms.plan_measure import PhoneForm, RowForm, TapeForm, WordsForm
from orchard.models import Tree
from orchard.plans.gathered import OnPlan, Plant, key_of, on_plan, place_of
from orchard.plans.measured import Side
from orchard.plans.problems import PlanError
from orchard.views.plan_words import found_words, measured_words, place_words
from orchard.views.site_page import SitePage, let_in

TWO = 2
WAYS: dict[str, type[TapeForm | PhoneForm | WordsForm]] = {
    "tape": TapeForm,
    "phone": PhoneForm,
    "words": WordsForm,
}


@dataclass(frozen=True, slots=True)
class PlaceLine:
    """One tree of the list; ``state`` is its place or what it is."""

    key: str
    name: str
    state: str
    tree: Tree | None


@require_safe
@login_required
def plan_measure(request: HttpRequest, site: str) -> HttpResponse:
    """Show which trees have no place yet, and the forms that give them one."""
    page = let_in(request, site, page="more")
    return _show(request, page, on_plan(page.site), {})


@require_POST
@login_required
def plan_place(request: HttpRequest, site: str) -> HttpResponse:
    """Write one tree's place, whichever way it was measured."""
    page = let_in(request, site, May.EDIT, page="more")
    way = request.POST.get("way", "")
    if way not in WAYS:
        message = gettext("There is no such way of measuring.")
        raise Http404(message)
    plan = on_plan(page.site)
    form = WAYS[way](request.POST, plan=plan, units=page.units, auto_id=f"{way}_%s")
    if form.is_valid() and _put(
        page,
        form,
        [Placing(form.chosen(), form.place_m, form.measured())],
    ):
        _tell_one(request, page, form)
        return redirect(_next_address(page, request.POST if way == "tape" else {}))
    return _show(request, page, plan, {way: form})


@require_POST
@login_required
def plan_row(request: HttpRequest, site: str) -> HttpResponse:
    """Write the places of a whole row."""
    page = let_in(request, site, May.EDIT, page="more")
    plan = on_plan(page.site)
    form = RowForm(request.POST, plan=plan, units=page.units, auto_id="row_%s")
    if form.is_valid():
        row, measured = form.row(), form.measured()
        placings = [
            Placing(plant, place, measured)
            for plant, place in zip(row, form.places, strict=True)
        ]
        if _put(page, form, placings):
            how = measured_words(measured, page.units)
            messages.success(
                request,
                gettext("{number} trees have their place: {how}.").format(
                    number=len(row), how=how
                ),
            )
            return redirect(_next_address(page, {}))
    return _show(request, page, plan, {"row": form})


@require_POST
@login_required
def plan_place_clear(request: HttpRequest, site: str) -> HttpResponse:
    """Forget one tree's place."""
    page = let_in(request, site, May.EDIT, page="more")
    wanted = request.POST.get("plant", "")
    for plant in on_plan(page.site).plants:
        if key_of(plant) == wanted:
            clear_place(site=page.site, plant=plant, person=page.person)
            messages.success(
                request,
                gettext("The place of {name} is forgotten.").format(name=plant.name),
            )
    return redirect("plan_measure", page.site.slug)


def _put(page: SitePage, form: OnPlanForm, placings: list[Placing]) -> bool:
    """Write places; say at the form why they cannot be."""
    try:
        put_plants(
            site=page.site,
            placings=placings,
            may_be_outside=form.cleaned_data["is_outside"],
            person=page.person,
        )
    except PlanError as error:
        form.tell(error)
        return False
    return True


def _tell_one(
    request: HttpRequest, page: SitePage, form: TapeForm | PhoneForm | WordsForm
) -> None:
    where = place_words(form.place_m, page.units)
    messages.success(
        request,
        gettext("{name} stands {where}.").format(name=form.chosen().name, where=where),
    )
    found = form.found if isinstance(form, TapeForm) else None
    for words in found_words(found, page.units) if found else ():
        messages.warning(request, words)


def _next_address(page: SitePage, values: Mapping[str, str]) -> str:
    """Return the page's address, on which the corners stay as they were."""
    kept = {
        name: values[name] for name in ("first", "second", "side") if name in values
    }
    address = reverse("plan_measure", args=[page.site.slug])
    return f"{address}?{urlencode(kept)}" if kept else address


def _show(
    request: HttpRequest, page: SitePage, plan: OnPlan, bound: Mapping[str, OnPlanForm]
) -> HttpResponse:
    lines = {key_of(plant): _line(plant, page) for plant in plan.plants}
    placed = {key_of(plant) for plant in plan.plants if place_of(plant)}
    context = page.context(
        forms=_fresh_forms(request, page, plan) | dict(bound),
        bound=next(iter(bound), ""),
        without=[line for key, line in lines.items() if key not in placed],
        placed=[line for key, line in lines.items() if key in placed],
        can_tape=len(plan.corners) >= TWO,
        can_row=len(plan.plants) >= TWO,
        corners=plan.corners,
        has_boundary=plan.boundary_m is not None,
    )
    status = 422 if bound else 200
    return render(request, "orchard/plan_measure.html", context, status=status)


def _fresh_forms(
    request: HttpRequest, page: SitePage, plan: OnPlan
) -> dict[str, OnPlanForm]:
    asked = request.GET
    without = [key_of(plant) for plant in plan.plants if not place_of(plant)]
    plant = asked.get("plant") or next(iter(without), "")
    corners = [str(corner.pk) for corner in plan.corners]
    initial = {
        "plant": plant,
        "first": asked.get("first") or next(iter(corners), ""),
        "second": asked.get("second") or next(iter(corners[1:]), ""),
        "side": asked.get("side") or Side.GARDEN,
    }
    common = {"plan": plan, "units": page.units}
    forms: dict[str, OnPlanForm] = {
        way: form(initial=initial, auto_id=f"{way}_%s", **common)
        for way, form in WAYS.items()
    }
    row = {"first": plant, "last": without[-1] if without else ""}
    forms["row"] = RowForm(initial=row, auto_id="row_%s", **common)
    return forms


def _line(plant: Plant, page: SitePage) -> PlaceLine:
    tree = plant if isinstance(plant, Tree) else None
    place = place_of(plant)
    parts = [_whose(plant)]
    if place:
        how = measured_words(tree.measured, page.units) if tree else ""
        parts = [place_words(place, page.units), how]
    return PlaceLine(
        key=key_of(plant),
        name=plant.name,
        state=" · ".join(part for part in parts if part),
        tree=tree,
    )


def _whose(plant: Plant) -> str:
    if isinstance(plant, Tree):
        return plant.block.name if plant.block else ""
    return gettext("Wanted, in {name}").format(name=plant.planting.name)
