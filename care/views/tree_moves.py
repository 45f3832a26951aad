"""A tree goes into another pot, into the ground, out of it; is grafted; is replaced."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import NoReverseMatch
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_POST

from care.actions.grafts import GraftedError, add_graft, end_graft
from care.actions.tree_moves import MoveError, dig_up, plant_out, repot, want_instead
from care.forms.grafts import GraftEndForm, GraftForm
from care.forms.tree_moves import DigForm, GroundForm, RepotForm
from care.planning.kinds import Kinds
from care.planning.moves import drains_too_slowly, replant_source
from care.views.tree_move_sheet import (
    kinds_at,
    moving_of,
    replace_form,
    too_large_words,
)
from care.views.tree_sheet import find_tree, show_tree
from orchard.access import May
from orchard.models import Graft, Tree
from orchard.views.site_page import SitePage, let_in

GONE = gettext_noop("It is no longer here, so it cannot be moved.")
PLANNED = gettext_noop("It is not planted yet, so it cannot be moved or grafted.")
TOO_WET = gettext_noop(
    "Its test hole held water for two days: roots drown there. Plant it on a mound, or "
    "elsewhere."
)
REPLANT = gettext_noop(
    "{kind} often does badly where its like stood before: better some metres aside, or in "
    "soil brought from elsewhere."
)


def _back(request: HttpRequest, page: SitePage, tree: Tree, said: str) -> HttpResponse:
    messages.success(request, said)
    return redirect("tree", page.site.slug, tree.public_id)


def _refusal(page: SitePage, tree: Tree, *, in_container: bool | None) -> str:
    """Return why a tree cannot be moved so, or nothing."""
    if tree.status != Tree.Status.ALIVE:
        return gettext(GONE)
    if tree.is_planned(page.today):
        return gettext(PLANNED)
    if in_container is not None and tree.in_container != in_container:
        return _elsewhere(tree)
    return ""


def _elsewhere(tree: Tree) -> str:
    words = (
        gettext("{name} grows in a pot by now.")
        if tree.in_container
        else gettext("{name} grows in the ground by now.")
    )
    return words.format(name=tree.name)


def _refused(
    request: HttpRequest, page: SitePage, tree: Tree, name: str, form: Form
) -> HttpResponse:
    return show_tree(request, page, tree, **{name: form})


@require_POST
@login_required
def tree_repot(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down that a tree went into another pot."""
    page = let_in(request, site, May.TICK)
    found = find_tree(page, tree)
    if said := _refusal(page, found, in_container=True):
        return _back(request, page, found, said)
    form = RepotForm(request.POST, moving=moving_of(page, found))
    if not form.is_valid():
        return _refused(request, page, found, "repot_form", form)
    before_l, pot, given = found.container_litres or 0.0, form.pot(), form.cleaned_data
    try:
        repot(
            tree=found,
            pot=pot,
            person=page.person,
            on=given["on"],
            now=page.now,
            note=given["note"],
        )
    except MoveError:
        return _back(request, page, found, _elsewhere(found))
    warning = too_large_words(before_l, pot.litres, found, page, kinds_at(page))
    said = gettext("{name} is in its new pot. The plan follows.").format(
        name=found.name
    )
    said += warning
    return _back(request, page, found, said)


@require_POST
@login_required
def tree_to_ground(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down that a tree left its pot for the ground."""
    page = let_in(request, site, May.TICK)
    found = find_tree(page, tree)
    if said := _refusal(page, found, in_container=True):
        return _back(request, page, found, said)
    form = GroundForm(request.POST, moving=moving_of(page, found))
    if not form.is_valid():
        return _refused(request, page, found, "ground_form", form)
    given = form.cleaned_data
    hours = given["drainage_hours"]
    try:
        plant_out(
            tree=found,
            ball_litres=given["ball"],
            spot=form.spot(),
            person=page.person,
            on=given["on"],
            now=page.now,
            drainage_hours=hours,
            note=given["note"],
        )
    except MoveError:
        return _back(request, page, found, _elsewhere(found))
    said = gettext(
        "{name} stands in the ground. It is watered as newly planted from "
        "now on, for its roots are no wider than their ball."
    ).format(name=found.name)
    if drains_too_slowly(hours):
        said = f"{said} {gettext(TOO_WET)}"
    return _back(request, page, found, said)


@require_POST
@login_required
def tree_to_pot(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down that a tree was dug up and potted."""
    page = let_in(request, site, May.TICK)
    found = find_tree(page, tree)
    if said := _refusal(page, found, in_container=False):
        return _back(request, page, found, said)
    form = DigForm(request.POST, moving=moving_of(page, found))
    if not form.is_valid():
        return _refused(request, page, found, "dig_form", form)
    given = form.cleaned_data
    try:
        dig_up(
            tree=found,
            pot=form.pot(),
            spot=form.spot(),
            person=page.person,
            on=given["on"],
            now=page.now,
            note=given["note"],
        )
    except MoveError:
        return _back(request, page, found, _elsewhere(found))
    said = gettext("{name} grows in a pot, outdoors. The plan follows.").format(
        name=found.name
    )
    return _back(request, page, found, said)


@require_POST
@login_required
def tree_replace(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Want a new tree in the place of one that is gone."""
    page = let_in(request, site, May.EDIT)
    found = find_tree(page, tree)
    if found.status == Tree.Status.ALIVE:
        said = gettext("{name} still stands. First write down that it is gone.").format(
            name=found.name
        )
        return _back(request, page, found, said)
    kinds = kinds_at(page)
    form = replace_form(request.POST, found, kinds)
    if not form.is_valid():
        return _refused(request, page, found, "replace_form", form)
    given = form.cleaned_data
    wanted = want_instead(
        tree=found,
        planting_name=given["planting"],
        name=given["name"],
        values={
            "species_key": given["species"],
            "cultivar": given["cultivar"],
            "rootstock": given["rootstock"],
        },
        at_its_place=bool(given.get("same_place")),
        today=page.today,
        person=page.person,
    )
    risk = _replant_words(found, given["species"], kinds)
    said = gettext("{name} is wanted where {old} stood.").format(
        name=wanted.name, old=found.name
    )
    said += risk
    messages.success(request, said)
    try:
        return redirect("planting", page.site.slug, wanted.planting.public_id)
    except NoReverseMatch:
        return redirect("tree", page.site.slug, found.public_id)


def _replant_words(old: Tree, species_key: str, kinds: Kinds) -> str:
    """Return the warning where a like tree grew in that ground, else nothing."""
    if old.in_container or old.species_key not in kinds.catalogue.species:
        return ""
    new = kinds.species(species_key)
    source = replant_source(kinds.species(old.species_key), new)
    return " " + gettext(REPLANT).format(kind=new.name) if source else ""


@require_POST
@login_required
def tree_graft(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Write down that a cultivar was grafted onto a tree."""
    page = let_in(request, site, May.TICK)
    found = find_tree(page, tree)
    if said := _refusal(page, found, in_container=None):
        return _back(request, page, found, said)
    catalogue = kinds_at(page).catalogue
    form = GraftForm(request.POST, tree=found, catalogue=catalogue, today=page.today)
    if form.is_valid():
        given = form.cleaned_data
        try:
            add_graft(
                tree=found,
                species_key=given["species"],
                cultivar=given["cultivar"],
                person=page.person,
                on=given["on"],
                now=page.now,
                note=given["note"],
            )
        except GraftedError:
            form.add_error(
                "cultivar", gettext("A graft of it lives on this tree already.")
            )
        else:
            said = gettext("{name} bears {cultivar} too, once the graft takes.").format(
                name=found.name, cultivar=given["cultivar"]
            )
            return _back(request, page, found, said)
    return _refused(request, page, found, "graft_form", form)


@require_POST
@login_required
def tree_graft_end(
    request: HttpRequest, site: str, tree: object, graft: int
) -> HttpResponse:
    """Write down that a graft is no longer there."""
    page = let_in(request, site, May.TICK)
    found = find_tree(page, tree)
    one = get_object_or_404(Graft, tree=found, pk=graft)
    form = GraftEndForm(request.POST, graft=one, today=page.today)
    if not form.is_valid():
        return _refused(request, page, found, "ended_graft_form", form)
    try:
        end_graft(
            graft=one, person=page.person, on=form.cleaned_data["on"], now=page.now
        )
    except GraftedError:
        return _back(request, page, found, gettext("That is already written down."))
    said = gettext(
        "The graft of {cultivar} is written off. Undo it in the log below."
    ).format(cultivar=one.cultivar)
    return _back(request, page, found, said)
