"""What a person says of one tree: readings, harvests, sprays, moves, its end."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext, ngettext
from django.views.decorators.http import require_POST

from care.actions.drained import water_tree
from care.actions.holds import log_manure, log_spray
from care.actions.logbook import (
    forget_cold_pocket,
    log_harvest,
    log_loss,
    log_move,
    observe,
    write_note,
)
from care.actions.same_job import Reply, SameJobError
from care.facts import SpeciesFacts
from care.forms.drained import drained_of
from care.forms.holds import HoldForm, ManureForm, SprayForm
from care.forms.trees import (
    BEFORE_PLANTING,
    EndForm,
    FeelForm,
    HarvestForm,
    MeasureForm,
    MoveForm,
    NoteForm,
    StageForm,
    cultivars_on,
    measures_of,
)
from care.forms.watering import WaterForm
from care.models import LogEntry
from care.planning.forgotten import FORGET_POCKET, READINGS
from care.planning.kinds import kinds_of
from care.views.same_job import COUNTED_ONCE, ask_member, is_same, reply_of
from care.views.tree_sheet import find_tree, show_tree, stages_of
from orchard.access import May
from orchard.models import Tree
from orchard.views.site_page import SitePage, back_to, let_in


def _back(request: HttpRequest, page: SitePage, tree: Tree, said: str) -> HttpResponse:
    messages.success(request, said)
    target = redirect("tree", page.site.slug, tree.public_id)
    return back_to(request, target["Location"])


def _refused(request: HttpRequest, page: SitePage, tree: Tree) -> HttpResponse | None:
    """Answer in words where a tree is still to be planted, else ``None``."""
    if not tree.is_planned(page.today):
        return None
    said = gettext(
        "{name} is not planted yet, so nothing of that can have happened to it."
    ).format(name=tree.name)
    return show_tree(request, page, tree, refused=said)


def _species(page: SitePage, tree: Tree) -> SpeciesFacts:
    return kinds_of(page.site.orchard).of_tree(tree)


def pour_on(page: SitePage, tree: Tree, given: Mapping[str, Any]) -> LogEntry:
    """Log what one tree got, as the form that was read says it."""
    return water_tree(
        tree=tree,
        litres=given["amount"],
        person=page.person,
        on=given["on"],
        now=page.now,
        has_drained=drained_of(given),
        drained_after_l=given.get("drained_after"),
    )


def pick(
    page: SitePage, tree: Tree, given: Mapping[str, Any], reply: Reply | None
) -> LogEntry:
    """Log what was picked, as the form that was read says it."""
    return log_harvest(
        tree=tree,
        mass_kg=given["mass"],
        cultivar=given.get("cultivar", ""),
        person=page.person,
        on=given["on"],
        now=page.now,
        note=given["note"],
        reply=reply,
    )


def _observation_form(
    page: SitePage, tree: Tree, request: HttpRequest
) -> tuple[str, forms.Form]:
    """Return the reading's name in the page's context and its bound form."""
    what = request.POST.get("what", "")
    if what == "soil_feel":
        return "feel_form", FeelForm(request.POST)
    if what in READINGS or what == FORGET_POCKET:
        return "forget_form", forms.Form(request.POST)
    if what == "bloom_stage":
        return "stage_form", StageForm(
            request.POST, stages=stages_of(_species(page, tree))
        )
    if what in measures_of(tree, page.today):
        return "measure", MeasureForm(request.POST, what=what, units=page.units)
    raise Http404


@require_POST
@login_required
def tree_observe(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down a reading: how the soil felt, a length, a stage."""
    page = let_in(request, site, May.TICK)
    found = find_tree(page, tree)
    is_early = request.POST.get("what") not in BEFORE_PLANTING
    if is_early and (refused := _refused(request, page, found)):
        return refused
    name, form = _observation_form(page, found, request)
    if not form.is_valid():
        return show_tree(request, page, found, **{name: form})
    if request.POST["what"] == FORGET_POCKET:
        forget_cold_pocket(
            site=page.site, person=page.person, on=page.today, now=page.now
        )
        said = gettext("Noted. The cold of {name} is learned anew.").format(
            name=page.site.name
        )
        return _back(request, page, found, said)
    observe(
        tree=found,
        what=request.POST["what"],
        person=page.person,
        on=page.today,
        now=page.now,
        value=form.cleaned_data.get("value"),
        word=form.cleaned_data.get("word", ""),
    )
    return _back(
        request,
        page,
        found,
        gettext("Noted for {name}. The plan follows.").format(name=found.name),
    )


@require_POST
@login_required
def tree_water(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down what one tree got, with or without a task for it."""
    page = let_in(request, site, May.TICK)
    found = find_tree(page, tree)
    if refused := _refused(request, page, found):
        return refused
    form = WaterForm(
        request.POST,
        today=page.today,
        units=page.units,
        in_container=found.in_container,
    )
    if not form.is_valid():
        return show_tree(request, page, found, water_form=form)
    pour_on(page, found, form.cleaned_data)
    return _back(
        request, page, found, gettext("The water is in the log. The plan follows.")
    )


@require_POST
@login_required
def tree_harvest(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down what was picked."""
    page = let_in(request, site, May.TICK)
    found = find_tree(page, tree)
    if refused := _refused(request, page, found):
        return refused
    form = HarvestForm(
        request.POST,
        today=page.today,
        units=page.units,
        cultivars=cultivars_on(found),
    )
    if not form.is_valid():
        return show_tree(request, page, found, harvest_form=form)
    reply = reply_of(request.POST)
    try:
        pick(page, found, form.cleaned_data, reply)
    except SameJobError as same:
        return ask_member(request, page, same, "trees")
    said = (
        gettext(COUNTED_ONCE)
        if is_same(reply)
        else gettext("The harvest is in the log.")
    )
    return _back(request, page, found, said)


def _trees_of(page: SitePage, tree: Tree, form: HoldForm) -> list[Tree]:
    """Return the tree, or with it every other one that stands in its block."""
    if not form.is_of_block:
        return [tree]
    others = page.site.trees.filter(block=tree.block, status=Tree.Status.ALIVE)
    on = form.cleaned_data["on"]
    return [one for one in others if one == tree or not one.is_planned(on)]


def _said_of(written: str, number: int) -> str:
    waits = ngettext(
        "Its page says when fruit may be picked.",
        "The pages of {number} trees say when fruit may be picked.",
        number,
    )
    return f"{written} {waits.format(number=number)}"


@require_POST
@login_required
def tree_spray(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down a spray and how long its label has fruit wait."""
    page = let_in(request, site, May.TICK)
    found = find_tree(page, tree)
    if refused := _refused(request, page, found):
        return refused
    form = SprayForm(request.POST, today=page.today, block=found.block)
    if not form.is_valid():
        return show_tree(request, page, found, spray_form=form)
    given = form.cleaned_data
    reply = reply_of(request.POST)
    try:
        entries = log_spray(
            site=page.site,
            trees=_trees_of(page, found, form),
            product=given["product"],
            waiting_days=given["waiting_days"],
            person=page.person,
            on=given["on"],
            now=page.now,
            note=given["note"],
            reply=reply,
        )
    except SameJobError as same:
        return ask_member(request, page, same, "trees")
    said = _said_of(gettext("The spray is in the log."), len(entries))
    return _back(request, page, found, said if entries else gettext(COUNTED_ONCE))


@require_POST
@login_required
def tree_manure(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down that raw manure was spread."""
    page = let_in(request, site, May.TICK)
    found = find_tree(page, tree)
    if refused := _refused(request, page, found):
        return refused
    form = ManureForm(request.POST, today=page.today, block=found.block)
    if not form.is_valid():
        return show_tree(request, page, found, manure_form=form)
    given = form.cleaned_data
    entries = log_manure(
        site=page.site,
        trees=_trees_of(page, found, form),
        touches_soil=form.touches_soil,
        person=page.person,
        on=given["on"],
        now=page.now,
        note=given["note"],
    )
    said = _said_of(gettext("The manure is in the log."), len(entries))
    return _back(request, page, found, said)


@require_POST
@login_required
def tree_move(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down where a pot stands now."""
    page = let_in(request, site, May.TICK)
    found = find_tree(page, tree)
    if not found.in_container:
        raise Http404
    if refused := _refused(request, page, found):
        return refused
    form = MoveForm(request.POST, today=page.today)
    if not form.is_valid():
        return show_tree(request, page, found, move_form=form)
    given = form.cleaned_data
    log_move(
        tree=found,
        place=given["place"],
        person=page.person,
        on=given["on"],
        now=page.now,
    )
    return _back(
        request,
        page,
        found,
        gettext("{name} is moved. The plan follows.").format(name=found.name),
    )


@require_POST
@login_required
def tree_end(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down that a tree was lost or removed; its log stays."""
    page = let_in(request, site, May.EDIT)
    found = find_tree(page, tree)
    if found.status != Tree.Status.ALIVE:
        return _back(request, page, found, gettext("That is already written down."))
    form = EndForm(request.POST, today=page.today)
    if not form.is_valid():
        return show_tree(request, page, found, end_form=form)
    given = form.cleaned_data
    log_loss(
        tree=found,
        status=given["status"],
        person=page.person,
        on=given["on"],
        now=page.now,
        reason=given["reason"],
    )
    said = gettext("{name} needs nothing any more. Undo it in the log below.").format(
        name=found.name
    )
    return _back(request, page, found, said)


@require_POST
@login_required
def tree_note(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write a note on a tree."""
    page = let_in(request, site, May.TICK)
    found = find_tree(page, tree)
    form = NoteForm(request.POST)
    if not form.is_valid():
        return show_tree(request, page, found, note_form=form)
    write_note(
        site=page.site,
        tree=found,
        note=form.cleaned_data["note"],
        person=page.person,
        on=page.today,
        now=page.now,
    )
    return _back(request, page, found, gettext("The note is in the log."))
