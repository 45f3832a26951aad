"""One wanted tree: add it to a planting, change it, give it a day, want it no more."""

import uuid
from datetime import date

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_http_methods, require_POST

from care.actions.plantings import (
    LoggedError,
    StandsError,
    change_wanted,
    clear_day,
    plan_tree,
    remove_wanted,
    stands,
    want_trees,
)
from care.forms.planting_names import DayForm
from care.forms.plantings import WantedForm, new_wanted, wanted_initial
from care.planning.fit_site import fit_site
from care.planning.kinds import Kinds, kinds_of
from care.planning.planting_defaults import rootstock_names
from care.planning.planting_sheet import wanted_of
from care.planning.when_to_plant import planting_year
from care.views.fit_words import line_words
from care.views.planting_page import WantedLine, lines_of, suggested_day
from care.views.planting_time_words import SOURCES, basis_words, outside_words
from care.views.plantings import find_planting, gone_is_not_found
from care.views.references import references
from orchard.access import May
from orchard.catalogue.search import called
from orchard.languages import day_of_year, weekday
from orchard.models import Planting, Tree, WantedTree
from orchard.views.site_page import SitePage, let_in

LOGGED = gettext_noop(
    "Something stands in its log already, such as a test hole or a call for marks. Set "
    "another day instead, or take those entries back first."
)


@login_required
@require_http_methods(["GET", "POST"])
def wanted_add(request: HttpRequest, site: str, planting: uuid.UUID) -> HttpResponse:
    """Ask for three facts of a tree that is wanted, and offer the rest."""
    page = let_in(request, site, May.EDIT, page="more")
    found = find_planting(page, planting)
    kinds = kinds_of(page.site.orchard)
    form = _form(request, page, kinds, initial=new_wanted(_kind(request, kinds)))
    if form.is_bound and form.is_valid():
        trees = want_trees(
            planting=found,
            values=form.values(),
            names=form.names(),
            person=page.person,
            block_name=form.named_block,
        )
        messages.success(request, _added(trees))
        return _after_adding(request, page, found)
    context = _context(page, form, kinds, planting=found)
    return render(request, "care/wanted_add.html", context)


def _kind(request: HttpRequest, kinds: Kinds) -> str:
    """Return the name of the kind that an address asks for by its key."""
    key = request.GET.get("kind", "")
    found = kinds.catalogue.species.get(key)
    return key if found is None else found.shown_name


def _added(trees: list[WantedTree]) -> str:
    if len(trees) == 1:
        return gettext("{name} is on the list.").format(name=trees[0].name)
    return gettext("{number} trees are on the list: {name} and others.").format(
        number=len(trees), name=trees[0].name
    )


def _after_adding(
    request: HttpRequest, page: SitePage, planting: Planting
) -> HttpResponse:
    name = "wanted_add" if "another" in request.POST else "planting"
    return redirect(reverse(name, args=[page.site.slug, planting.public_id]))


def _form(
    request: HttpRequest,
    page: SitePage,
    kinds: Kinds,
    initial: dict[str, object],
    wanted: WantedTree | None = None,
) -> WantedForm:
    others = WantedTree.objects.filter(planting__site=page.site)
    if wanted is not None:
        others = others.exclude(pk=wanted.pk)
    trees = page.site.trees.all()
    if wanted is not None and wanted.tree_id is not None:
        trees = trees.exclude(pk=wanted.tree_id)
    taken = {*trees.values_list("name", flat=True)}
    return WantedForm(
        request.POST if request.method == "POST" else None,
        units=page.units,
        kinds=kinds,
        soil_ph=page.site.soil_ph,
        gone=page.site.trees.exclude(status=Tree.Status.ALIVE).order_by("name", "id"),
        names_taken=frozenset(taken | {*others.values_list("name", flat=True)}),
        is_new=wanted is None,
        initial=initial,
    )


def _context(
    page: SitePage, form: WantedForm, kinds: Kinds, **more: object
) -> dict[str, object]:
    kind = form.kind
    known = [kind] if kind else kinds.all_species
    more["form"] = form
    return page.context() | {
        **more,
        "species": sorted(called(species.name) for species in kinds.all_species),
        "cultivars": sorted(
            {each.name for one in known for each in kinds.cultivars_of(one.key)}
        ),
        "rootstocks": rootstock_names(kind.key if kind else ""),
        "blocks": page.site.blocks.values_list("name", flat=True),
    }


def find_wanted(page: SitePage, wanted: object) -> WantedTree:
    """Return one of the site's wanted trees with what its pages read.

    Raises
    ------
    Http404
        There is no such tree at this site.
    """
    rows = wanted_of(page.site).select_related(
        "planting__site__orchard", "tree__site__orchard", "block", "replaces"
    )
    return get_object_or_404(rows, public_id=wanted)


def _to_planting(page: SitePage, wanted: WantedTree) -> HttpResponse:
    return redirect("planting", page.site.slug, wanted.planting.public_id)


def _stands(request: HttpRequest, page: SitePage, wanted: WantedTree) -> HttpResponse:
    """Lead on to the page of a tree that stands already."""
    said = gettext(
        "{name} stands already. What is to be changed is changed here."
    ).format(name=wanted.name)
    messages.warning(request, said)
    tree = WantedTree.objects.select_related("tree").get(pk=wanted.pk).tree
    if tree is None:
        return _to_planting(page, wanted)
    return redirect("tree", page.site.slug, tree.public_id)


@login_required
@require_http_methods(["GET", "POST"])
def wanted_edit(request: HttpRequest, site: str, wanted: uuid.UUID) -> HttpResponse:
    """Change what is wanted."""
    page = let_in(request, site, May.EDIT, page="more")
    found = find_wanted(page, wanted)
    if stands(found, page.today):
        return _stands(request, page, found)
    kinds = kinds_of(page.site.orchard)
    form = _form(request, page, kinds, wanted_initial(found, kinds), found)
    if form.is_bound and form.is_valid():
        values = form.values() | {"name": form.names()[0]}
        try:
            with gone_is_not_found():
                change_wanted(
                    wanted=found,
                    values=values,
                    today=page.today,
                    person=page.person,
                    block_name=form.named_block,
                )
        except StandsError:
            return _stands(request, page, found)
        messages.success(
            request, gettext("{name} is changed.").format(name=values["name"])
        )
        return _to_planting(page, found)
    context = _context(page, form, kinds, wanted=found)
    return render(request, "care/wanted_edit.html", context)


@require_POST
@login_required
def wanted_remove(request: HttpRequest, site: str, wanted: uuid.UUID) -> HttpResponse:
    """Want a tree no more."""
    page = let_in(request, site, May.EDIT, page="more")
    found = find_wanted(page, wanted)
    try:
        with gone_is_not_found():
            remove_wanted(wanted=found, today=page.today, person=page.person)
    except StandsError:
        return _stands(request, page, found)
    except LoggedError:
        still = gettext("{name} is still on the list.").format(name=found.name)
        messages.error(
            request,
            f"{still} {gettext(LOGGED)}",
        )
    else:
        messages.success(
            request, gettext("{name} is no longer wanted.").format(name=found.name)
        )
    return _to_planting(page, found)


@login_required
@require_http_methods(["GET", "POST"])
def wanted_day(request: HttpRequest, site: str, wanted: uuid.UUID) -> HttpResponse:
    """Show when a tree goes in, and set its day or take it back."""
    page = let_in(request, site, May.EDIT, page="more")
    found = find_wanted(page, wanted)
    if stands(found, page.today):
        return _stands(request, page, found)
    if request.method == "POST" and "clear" in request.POST:
        return _clear(request, page, found)
    year = planting_year(page.site, page.today)
    (line,) = lines_of([found], year, page)
    form = DayForm(
        request.POST if request.method == "POST" else None,
        today=page.today,
        initial={"on": _day_of(line, page)},
    )
    if form.is_bound and form.is_valid():
        return _set_day(request, page, line, form)
    context = page.context(
        form=form,
        line=line,
        wanted=found,
        basis=basis_words(year),
        is_told=year.is_told,
        fit=_fit(page, found),
        references=references(SOURCES, None),
    )
    return render(request, "care/wanted_day.html", context)


def _fit(page: SitePage, wanted: WantedTree) -> str:
    """Return in one sentence how well its kind fits here."""
    key = wanted.species_key
    found = fit_site(
        page.site, page.today, kind_key=key, has_place=wanted.x_m is not None
    )
    species, *cultivars = found.of_species(key)
    own = (
        fit
        for fit in cultivars
        if fit.cultivar and fit.cultivar.name == wanted.cultivar
    )
    fit = next(own, species)
    return line_words(fit.place(in_pot=wanted.in_container), page.units)


def _day_of(line: WantedLine, page: SitePage) -> date | None:
    """Return the day it has, else one that suits it."""
    tree = line.wanted.tree
    return suggested_day(line.time, page.today) if tree is None else tree.planted_on


def _set_day(
    request: HttpRequest, page: SitePage, line: WantedLine, form: DayForm
) -> HttpResponse:
    on = form.cleaned_data["on"]
    try:
        with gone_is_not_found():
            plan_tree(wanted=line.wanted, on=on, today=page.today, person=page.person)
    except StandsError:
        return _stands(request, page, line.wanted)
    said = gettext(
        "{name} is planned for {day}. What comes before stands in the round in time."
    ).format(name=line.wanted.name, day=f"{weekday(on)} {day_of_year(on)}")
    messages.success(request, said)
    outside = outside_words(line.time, on, page.today)
    if outside:
        messages.warning(request, outside)
    return _to_planting(page, line.wanted)


def _clear(request: HttpRequest, page: SitePage, wanted: WantedTree) -> HttpResponse:
    try:
        with gone_is_not_found():
            clear_day(wanted=wanted, today=page.today, person=page.person)
    except StandsError:
        return _stands(request, page, wanted)
    except LoggedError:
        kept = gettext("{name} keeps its day.").format(name=wanted.name)
        messages.error(
            request,
            f"{kept} {gettext(LOGGED)}",
        )
    else:
        messages.success(
            request, gettext("{name} has no day any more.").format(name=wanted.name)
        )
    return _to_planting(page, wanted)
