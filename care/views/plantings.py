"""Plantings: the way to a new tree, and the trees that are wanted together."""

import uuid
from collections import Counter
from collections.abc import Container, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import IntegrityError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext, ngettext
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from care.actions.plantings import (
    StandsError,
    make_planting,
    plan_trees,
    planted_trees,
    put_away,
    rename_planting,
)
from care.forms.planting_names import DayForm, PlantingForm
from care.views.days import full_day
from care.views.planting_page import stage_of, wanted_page
from orchard.access import May
from orchard.models import Planting, WantedTree
from orchard.views.site_page import SitePage, let_in
from orchard.views.trees import SAVED_AT_ONCE


@dataclass(frozen=True, slots=True)
class PlantingLine:
    """One planting and how far it is."""

    planting: Planting
    words: str


@require_safe
@login_required
def plantings(request: HttpRequest, site: str) -> HttpResponse:
    """Show the steps to a new tree, and every planting with how far it is."""
    page = let_in(request, site, page="more")
    rows = page.site.plantings.prefetch_related("wanted__tree")
    planted = planted_trees(
        wanted.tree_id for row in rows for wanted in row.wanted.all()
    )
    lines = [PlantingLine(row, _how_far(row, page, planted)) for row in rows]
    context = page.context(
        lines=[line for line in lines if not line.planting.is_put_away],
        put_away=[line for line in lines if line.planting.is_put_away],
    )
    return render(request, "care/plantings.html", context)


def _how_far(planting: Planting, page: SitePage, planted: Container[int]) -> str:
    """Return such as "5 trees: 2 wanted, 3 with a day"."""
    wanted = planting.wanted.all()
    stages = Counter(stage_of(row, page.today, planted) for row in wanted)
    number = sum(stages.values())
    if not number:
        return gettext("No trees in it yet")
    trees = ngettext("{number} tree", "{number} trees", number).format(number=number)
    parts = [_counted(stage, stages[stage]) for stage in stages_in_order(stages)]
    return f"{trees}: {', '.join(parts)}"


def _counted(stage: str, number: int) -> str:
    words = {
        "wanted": ngettext("{number} wanted", "{number} wanted", number),
        "placed": ngettext("{number} placed", "{number} placed", number),
        "with a day": ngettext("{number} with a day", "{number} with a day", number),
        "standing": ngettext("{number} standing", "{number} standing", number),
        "gone again": ngettext("{number} gone again", "{number} gone again", number),
    }[stage]
    return words.format(number=number)


def stages_in_order(stages: Counter[str]) -> list[str]:
    """Return the stages that some tree is at, as they follow each other."""
    order = (
        "wanted",
        "placed",
        "with a day",
        "standing",
        "gone again",
    )
    return [stage for stage in order if stages[stage]]


@login_required
@require_http_methods(["GET", "POST"])
def planting_add(request: HttpRequest, site: str) -> HttpResponse:
    """Begin a planting; its trees come next, one of the kind asked for to begin with."""
    page = let_in(request, site, May.EDIT, page="more")
    form = _name_form(request, page)
    if form.is_bound and form.is_valid():
        try:
            made = make_planting(
                site=page.site,
                name=form.cleaned_data["name"],
                today=page.today,
                person=page.person,
            )
        except IntegrityError:
            form.add_error(None, gettext(SAVED_AT_ONCE))
        else:
            query = {"kind": kind} if (kind := request.GET.get("kind")) else {}
            return redirect(
                reverse(
                    "wanted_add", args=[page.site.slug, made.public_id], query=query
                )
            )
    return render(request, "care/planting_add.html", page.context(form=form))


def _name_form(
    request: HttpRequest, page: SitePage, planting: Planting | None = None
) -> PlantingForm:
    others = page.site.plantings.all()
    if planting is not None:
        others = others.exclude(pk=planting.pk)
    taken = frozenset(others.values_list("name", flat=True))
    return PlantingForm(
        request.POST if request.method == "POST" else None,
        names_taken=taken,
        initial={"name": planting.name if planting else _free_name(page, taken)},
    )


def _free_name(page: SitePage, taken: frozenset[str]) -> str:
    stem = name = gettext("Planting {year}").format(year=page.today.year)
    number = 2
    while name in taken:
        name, number = f"{stem}, {number}", number + 1
    return name


def find_planting(page: SitePage, planting: object) -> Planting:
    """Return one of the site's plantings.

    Raises
    ------
    Http404
        There is no such planting at this site.
    """
    rows = Planting.objects.select_related("site__orchard")
    return get_object_or_404(rows, site=page.site, public_id=planting)


@contextmanager
def gone_is_not_found() -> Iterator[None]:
    """Answer 404 where somebody else took a tree off its list in the meantime.

    Raises
    ------
    Http404
        The tree is wanted no more.
    """
    try:
        yield
    except WantedTree.DoesNotExist as error:
        message = gettext("The tree is wanted no more.")
        raise Http404(message) from error


@require_safe
@login_required
def planting(request: HttpRequest, site: str, planting: uuid.UUID) -> HttpResponse:
    """Show the trees of a planting: where, when, and what is still to be done."""
    page = let_in(request, site, page="more")
    return show_planting(request, page, find_planting(page, planting))


def show_planting(
    request: HttpRequest, page: SitePage, found: Planting, form: DayForm | None = None
) -> HttpResponse:
    """Render a planting; ``form`` is one for a day that was refused."""
    shown = wanted_page(page, found)
    context = page.context(
        planting=found,
        shown=shown,
        form=form or DayForm(today=page.today, initial={"on": shown.shared_day}),
    )
    return render(request, "care/planting.html", context)


@login_required
@require_http_methods(["GET", "POST"])
def planting_edit(request: HttpRequest, site: str, planting: uuid.UUID) -> HttpResponse:
    """Rename a planting, put it away or take it out again."""
    page = let_in(request, site, May.EDIT, page="more")
    found = find_planting(page, planting)
    if request.method == "POST" and {"away", "back"} & request.POST.keys():
        is_put_away = "away" in request.POST
        put_away(planting=found, person=page.person, is_put_away=is_put_away)
        said = (
            gettext("{name} is put away.")
            if is_put_away
            else gettext("{name} is taken out again.")
        )
        messages.success(request, said.format(name=found.name))
        return redirect("plantings", page.site.slug)
    form = _name_form(request, page, found)
    if form.is_bound and form.is_valid():
        try:
            rename_planting(
                planting=found, name=form.cleaned_data["name"], person=page.person
            )
        except IntegrityError:
            found.refresh_from_db()
            form.add_error(None, gettext(SAVED_AT_ONCE))
        else:
            return redirect("planting", page.site.slug, found.public_id)
    context = page.context(form=form, planting=found)
    return render(request, "care/planting_edit.html", context)


@require_POST
@login_required
def planting_days(request: HttpRequest, site: str, planting: uuid.UUID) -> HttpResponse:
    """Set one day for all trees without one whose time it is."""
    page = let_in(request, site, May.EDIT, page="more")
    found = find_planting(page, planting)
    form = DayForm(request.POST, today=page.today)
    if not form.is_valid():
        return show_planting(request, page, found, form)
    on = form.cleaned_data["on"]
    waiting = [line for line in wanted_page(page, found).lines if line.is_open]
    fits = [line for line in waiting if line.time.holds(on)]
    if not fits:
        message = gettext(
            "That day is the time of none of the trees without a day. Each tree says "
            "when it goes in; a day of its own may be set there."
        )
        form.add_error("on", message)
        return show_planting(request, page, found, form)
    try:
        with gone_is_not_found():
            plan_trees(
                wanted=[line.wanted for line in fits],
                on=on,
                today=page.today,
                person=page.person,
            )
    except StandsError:
        form.add_error(None, gettext(SAVED_AT_ONCE))
        return show_planting(request, page, found, form)
    messages.success(request, _said(len(fits), full_day(on)))
    left = [line.wanted.name for line in waiting if line not in fits]
    if left:
        messages.warning(
            request,
            gettext("That is not the time of {trees}.").format(trees=", ".join(left)),
        )
    return redirect("planting", page.site.slug, found.public_id)


def _said(number: int, day: str) -> str:
    return ngettext(
        "{number} tree is planned for {day}. What comes before stands in the round in "
        "time.",
        "{number} trees are planned for {day}. What comes before stands in the round in "
        "time.",
        number,
    ).format(number=number, day=day)
