"""The trees: a list by block, and a page for each with its state and its log."""

from datetime import date

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from care.actions.logbook import (
    log_harvest,
    log_loss,
    log_move,
    observe,
    write_note,
)
from care.forms.trees import (
    FEELINGS,
    MEASURES,
    EndForm,
    FeelForm,
    HarvestForm,
    MeasureForm,
    MoveForm,
    NoteForm,
    StageForm,
)
from care.planning.bloom_stages import reportable_stages
from care.planning.plan_site import ensure_planned
from care.views.tree_facts import figure_rows, tree_facts, where_now
from care.views.tree_lines import (
    living_trees,
    matches,
    place_words,
    species_name,
    tree_blocks,
)
from care.views.tree_state import tree_log, tree_state, tree_tasks
from orchard.access import May
from orchard.models import Stay, Tree
from orchard.views.site_page import SitePage, back_to, let_in

ON_A_PAGE = 200


@require_safe
@login_required
def tree_list(request: HttpRequest, site: str) -> HttpResponse:
    """Show the living trees by block, each with one phrase on its state."""
    page = let_in(request, site)
    ensure_planned(page.site, page.today)
    words = request.GET.get("q", "").strip()[:80]
    living = list(living_trees(page.site))
    found = [tree for tree in living if matches(tree, words)] if words else living
    shown = Paginator(found, ON_A_PAGE).get_page(request.GET.get("page"))
    gone = page.site.trees.exclude(status=Tree.Status.ALIVE).order_by("-ended_on")
    context = page.context(
        "trees",
        words=words,
        count=len(living),
        shown=shown,
        blocks=tree_blocks(shown, page.today, page.units),
        gone=gone,
    )
    return render(request, "care/trees.html", context)


def _find(page: SitePage, tree: object) -> Tree:
    return get_object_or_404(
        Tree.objects.select_related("block", "site"), site=page.site, public_id=tree
    )


@require_safe
@login_required
def tree_page(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Show one tree: state, work, readings, facts, log."""
    page = let_in(request, site)
    ensure_planned(page.site, page.today)
    return _show(request, page, _find(page, tree))


def _measures(page: SitePage) -> dict[str, MeasureForm]:
    return {what: MeasureForm(what=what, units=page.units) for what in MEASURES}


def _stages(tree: Tree) -> list[tuple[str, str]]:
    return [
        (stage, stage.replace("_", " ").capitalize())
        for stage in reportable_stages(tree.species_key)
    ]


def _place_now(stays: list[Stay], today: date) -> str:
    past = [stay.place for stay in stays if stay.since <= today]
    return past[-1] if past else Stay.Place.OUTDOORS


def _show(
    request: HttpRequest, page: SitePage, tree: Tree, **bound: object
) -> HttpResponse:
    stays = list(tree.stays.all())
    measures = _measures(page)
    refused = bound.pop("measure", None)
    if isinstance(refused, MeasureForm):
        measures[str(refused.data.get("what"))] = refused
    context = page.context(
        "trees",
        tree=tree,
        species=species_name(tree),
        place=place_words(tree, page.units),
        is_alive=tree.status == Tree.Status.ALIVE,
        where=where_now(tree, stays),
        state=tree_state(tree, page.today, page.units),
        tasks=tree_tasks(tree, page.today, page.units),
        log=tree_log(tree, page.today, page.units),
        facts=tree_facts(tree, page.today, page.units),
        figures=figure_rows(tree, page.units),
        feelings=FEELINGS,
        measures=list(measures.items()),
        here=request.path if request.method == "GET" else "",
        **{
            "stage_form": StageForm(stages=_stages(tree)),
            "harvest_form": HarvestForm(today=page.today, units=page.units),
            "move_form": MoveForm(
                today=page.today, place=_place_now(stays, page.today)
            ),
            "end_form": EndForm(today=page.today),
            "note_form": NoteForm(),
            **bound,
        },
    )
    return render(
        request, "care/tree.html", context, status=422 if bound or refused else 200
    )


def _back(request: HttpRequest, page: SitePage, tree: Tree, said: str) -> HttpResponse:
    messages.success(request, said)
    target = redirect("tree", page.site.slug, tree.public_id)
    return back_to(request, target["Location"])


def _observation_form(
    page: SitePage, tree: Tree, request: HttpRequest
) -> tuple[str, forms.Form]:
    """Return the reading's name in the page's context and its bound form."""
    what = request.POST.get("what", "")
    if what == "soil_feel":
        return "feel_form", FeelForm(request.POST)
    if what == "bloom_stage":
        return "stage_form", StageForm(request.POST, stages=_stages(tree))
    if what in MEASURES:
        return "measure", MeasureForm(request.POST, what=what, units=page.units)
    raise Http404


@require_POST
@login_required
def tree_observe(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down a reading: how the soil felt, a length, a stage."""
    page = let_in(request, site, May.TICK)
    found = _find(page, tree)
    name, form = _observation_form(page, found, request)
    if not form.is_valid():
        return _show(request, page, found, **{name: form})
    observe(
        tree=found,
        what=request.POST["what"],
        person=page.person,
        on=page.today,
        now=page.now,
        value=form.cleaned_data.get("value"),
        word=form.cleaned_data.get("word", ""),
    )
    return _back(request, page, found, f"Noted for {found.name}. The plan follows.")


@require_POST
@login_required
def tree_harvest(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down what was picked."""
    page = let_in(request, site, May.TICK)
    found = _find(page, tree)
    form = HarvestForm(request.POST, today=page.today, units=page.units)
    if not form.is_valid():
        return _show(request, page, found, harvest_form=form)
    given = form.cleaned_data
    log_harvest(
        tree=found,
        mass_kg=given["mass"],
        person=page.person,
        on=given["on"],
        now=page.now,
        note=given["note"],
    )
    return _back(request, page, found, "The harvest is in the log.")


@require_POST
@login_required
def tree_move(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down where a pot stands now."""
    page = let_in(request, site, May.TICK)
    found = _find(page, tree)
    if not found.in_container:
        raise Http404
    form = MoveForm(request.POST, today=page.today)
    if not form.is_valid():
        return _show(request, page, found, move_form=form)
    given = form.cleaned_data
    log_move(
        tree=found,
        place=given["place"],
        person=page.person,
        on=given["on"],
        now=page.now,
    )
    return _back(request, page, found, f"{found.name} is moved. The plan follows.")


@require_POST
@login_required
def tree_end(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down that a tree was lost or removed; its log stays."""
    page = let_in(request, site, May.EDIT)
    found = _find(page, tree)
    if found.status != Tree.Status.ALIVE:
        return _back(request, page, found, "That is already written down.")
    form = EndForm(request.POST, today=page.today)
    if not form.is_valid():
        return _show(request, page, found, end_form=form)
    given = form.cleaned_data
    log_loss(
        tree=found,
        status=given["status"],
        person=page.person,
        on=given["on"],
        now=page.now,
        reason=given["reason"],
    )
    said = f"{found.name} needs nothing any more. Undo it in the log below."
    return _back(request, page, found, said)


@require_POST
@login_required
def tree_note(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write a note on a tree."""
    page = let_in(request, site, May.TICK)
    found = _find(page, tree)
    form = NoteForm(request.POST)
    if not form.is_valid():
        return _show(request, page, found, note_form=form)
    write_note(
        site=page.site,
        tree=found,
        note=form.cleaned_data["note"],
        person=page.person,
        on=page.today,
        now=page.now,
    )
    return _back(request, page, found, "The note is in the log.")
