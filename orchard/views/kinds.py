"""The kinds an orchard may grow: finding one, all that is known of it, adding one."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import IntegrityError, transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from orchard.access import May
from orchard.actions.own_kinds import (
    InUseError,
    add_cultivar,
    add_species,
    remove_cultivar,
    remove_species,
)
from orchard.catalogue import Cultivar, Species
from orchard.catalogue.cultivars import CULTIVAR_FIGURES, FLOWER_TYPES
from orchard.catalogue.figure_labels import label_of
from orchard.catalogue.figure_words import Reader
from orchard.catalogue.of_orchard import OrchardCatalogue, catalogue_of
from orchard.catalogue.overlay import SPECIES_FIGURES
from orchard.catalogue.search import OWN_KEY
from orchard.forms.own_kinds import CultivarForm, KindForm
from orchard.models import OwnCultivar, OwnSpecies, Tree
from orchard.views.kind_words import (
    KindRow,
    cultivar_rows,
    kind_sections,
    ripe_words,
    summary_words,
)
from orchard.views.site_page import SitePage, let_in

MAX_LETTERS = 80
NAMED = 4  # of those that use what cannot be removed
TAKEN = gettext_noop("Somebody else added it at the same moment. Look again.")


@dataclass(frozen=True, slots=True)
class KindLine:
    """A kind in a list."""

    key: str
    name: str
    botanical: str
    summary: str
    cultivars: str
    is_own: bool


@dataclass(frozen=True, slots=True)
class CultivarPart:
    """A cultivar on the page of its kind."""

    key: str
    name: str
    ripe: str
    own_number: str
    rows: tuple[KindRow, ...]
    missing: tuple[tuple[str, str], ...]


def reader_of(page: SitePage) -> Reader:
    """Return who reads the page: their units, and the place's half of the world."""
    return Reader(page.units, page.site.latitude_deg < 0)


def find_kind(catalogue: OrchardCatalogue, key: str) -> Species:
    """Return the orchard's kind of that key, or answer that there is none."""
    species = catalogue.species.get(key)
    if species is None:
        raise Http404
    return species


def find_cultivar(catalogue: OrchardCatalogue, kind: str, key: str) -> Cultivar:
    """Return the cultivar of that key, or answer that there is none."""
    for cultivar in catalogue.cultivars_of(kind):
        if cultivar.key == key:
            return cultivar
    raise Http404


@require_safe
@login_required
def kinds(request: HttpRequest, site: str) -> HttpResponse:
    """Show the kinds whose name fits what was typed, or all of them."""
    page = let_in(request, site, page="more")
    words = request.GET.get("q", "").strip()[:MAX_LETTERS]
    catalogue, reader = catalogue_of(page.site.orchard), reader_of(page)
    grown = set(
        Tree.objects.filter(
            site__orchard=page.site.orchard, status=Tree.Status.ALIVE
        ).values_list("species_key", flat=True)
    )
    found = _found(catalogue, words) if words else _by_name(catalogue)
    lines = [_line(species, catalogue, reader) for species in found]
    context = page.context(
        words=words,
        yours=[] if words else [line for line in lines if line.key in grown],
        lines=[line for line in lines if words or line.key not in grown],
        cultivars=_cultivars_found(catalogue, words, reader),
        count=len(catalogue.species),
        is_first=not grown,
    )
    is_typing = bool(getattr(request, "htmx", False))
    template = "orchard/kinds_found.html" if is_typing else "orchard/kinds.html"
    return render(request, template, context)


@require_safe
@login_required
def kind(request: HttpRequest, site: str, kind: str) -> HttpResponse:
    """Show everything known of a kind and where each figure comes from."""
    page = let_in(request, site, page="more")
    catalogue, reader = catalogue_of(page.site.orchard), reader_of(page)
    species = find_kind(catalogue, kind)
    own = catalogue.own_species.get(kind)
    sections = kind_sections(species, reader)
    cultivars = tuple(
        CultivarPart(
            key=each.key,
            name=each.name,
            ripe=ripe_words(each, reader),
            own_number=_own_number(each),
            rows=cultivar_rows(each, reader),
            missing=_missing(each, _askable(kind)),
        )
        for each in catalogue.cultivars_of(kind)
    )
    rows = [row for section in sections for row in section.rows]
    rows += [row for part in cultivars for row in part.rows]
    context = page.context(
        species=species,
        summary=summary_words(species, reader),
        sections=sections,
        cultivars=cultivars,
        own=own,
        like=catalogue.species.get(own.like_key) if own else None,
        has_unverified=any(row.is_unverified for row in rows),
        missing=_missing(species, SPECIES_FIGURES),
        nothing=(),
        is_southern=reader.is_southern,
    )
    return render(request, "orchard/kind.html", context)


@require_http_methods(["GET", "POST"])
@login_required
def kind_add(request: HttpRequest, site: str) -> HttpResponse:
    """Add a kind the catalogue does not have, like one it has."""
    page = let_in(request, site, May.EDIT, page="more")
    catalogue = catalogue_of(page.site.orchard)
    form = KindForm(
        request.POST if request.method == "POST" else None,
        catalogue=catalogue,
        initial={"common_name": request.GET.get("name", "")[:60]},
    )
    if form.is_bound and form.is_valid():
        data = form.cleaned_data
        values = {name: data[name] for name in ("common_name", "botanical_name")}
        values |= {"like_key": data["like"], "source": data["source"]}
        try:
            with transaction.atomic():
                row = add_species(
                    orchard=page.site.orchard, values=values, person=page.person
                )
        except IntegrityError:
            form.add_error(None, gettext(TAKEN))
        else:
            messages.success(
                request,
                gettext("{name} is added. Check its figures.").format(
                    name=row.common_name
                ),
            )
            return redirect("kind", page.site.slug, row.key)
    names = sorted(each.shown_name for each in catalogue.species.values())
    context = page.context(form=form, kinds=names)
    return render(request, "orchard/kind_add.html", context)


@require_http_methods(["GET", "POST"])
@login_required
def cultivar_add(request: HttpRequest, site: str, kind: str) -> HttpResponse:
    """Add a cultivar the catalogue does not have."""
    page = let_in(request, site, May.EDIT, page="more")
    catalogue = catalogue_of(page.site.orchard)
    species = find_kind(catalogue, kind)
    form = CultivarForm(
        request.POST if request.method == "POST" else None,
        species_key=kind,
        catalogue=catalogue,
        reader=reader_of(page),
        initial={"name": request.GET.get("name", "")[:60]},
    )
    if form.is_bound and form.is_valid():
        try:
            with transaction.atomic():
                row = add_cultivar(
                    orchard=page.site.orchard,
                    species_key=kind,
                    name=form.cleaned_data["name"],
                    values=form.values,
                    source=form.cleaned_data["source"],
                    person=page.person,
                )
        except IntegrityError:
            form.add_error(None, gettext(TAKEN))
        else:
            messages.success(request, gettext("{name} is added.").format(name=row.name))
            return redirect("kind", page.site.slug, kind)
    context = page.context(form=form, species=species)
    return render(request, "orchard/cultivar_add.html", context)


@require_POST
@login_required
def kind_remove(request: HttpRequest, site: str, own_kind: str) -> HttpResponse:
    """Remove a kind of the orchard's own that no tree is of."""
    page = let_in(request, site, May.EDIT)
    row = get_object_or_404(OwnSpecies, orchard=page.site.orchard, key=own_kind)
    try:
        remove_species(orchard=page.site.orchard, row=row, person=page.person)
    except InUseError as error:
        messages.error(request, _in_use(row.common_name, error))
        return redirect("kind", page.site.slug, row.key)
    messages.success(
        request,
        gettext("{name} is removed.").format(name=row.common_name),
    )
    return redirect("kinds", page.site.slug)


@require_POST
@login_required
def cultivar_remove(
    request: HttpRequest, site: str, kind: str, own_cultivar: int
) -> HttpResponse:
    """Remove a cultivar of the orchard's own that no tree is of."""
    page = let_in(request, site, May.EDIT)
    row = get_object_or_404(
        OwnCultivar, orchard=page.site.orchard, species_key=kind, pk=own_cultivar
    )
    try:
        remove_cultivar(orchard=page.site.orchard, row=row, person=page.person)
    except InUseError as error:
        messages.error(request, _in_use(row.name, error))
    else:
        messages.success(request, gettext("{name} is removed.").format(name=row.name))
    return redirect("kind", page.site.slug, kind)


def _own_number(cultivar: Cultivar) -> str:
    """Return the number of the row behind a cultivar of one's own, or nothing."""
    number = cultivar.key.removeprefix(OWN_KEY)
    return "" if number == cultivar.key else number


def _missing(
    row: Species | Cultivar, figures: Iterable[str]
) -> tuple[tuple[str, str], ...]:
    """Return the figures nothing is known of, with what they are called."""
    return tuple(
        (name, label_of(name)) for name in figures if name not in row.provenance
    )


def _askable(species_key: str) -> tuple[str, ...]:
    has_types = species_key in FLOWER_TYPES
    return tuple(
        name for name in CULTIVAR_FIGURES if has_types or name != "flower_type"
    )


def _in_use(name: str, error: InUseError) -> str:
    shown, more = error.names[:NAMED], len(error.names) - NAMED
    if more > 0:
        words = gettext(
            "{name} stays: {names} and {more} more would have no kind without it."
        )
    else:
        words = gettext("{name} stays: {names} would have no kind without it.")
    return words.format(name=name, names=", ".join(shown), more=more)


def _by_name(catalogue: OrchardCatalogue) -> list[Species]:
    return sorted(catalogue.species.values(), key=lambda each: each.shown_name)


def _found(catalogue: OrchardCatalogue, words: str) -> list[Species]:
    """Return the kinds called so, then those of which a cultivar is."""
    named = catalogue.names.find(words)
    of_cultivars = [
        catalogue.species[each.species_key]
        for each in catalogue.names.find_cultivars(words)
        if each.species_key in catalogue.species
    ]
    return list({each.key: each for each in (*named, *of_cultivars)}.values())


def _cultivars_found(
    catalogue: OrchardCatalogue, words: str, reader: Reader
) -> list[tuple[Cultivar, Species, str]]:
    if not words:
        return []
    return [
        (each, catalogue.species[each.species_key], ripe_words(each, reader))
        for each in catalogue.names.find_cultivars(words)
        if each.species_key in catalogue.species
    ]


def _line(species: Species, catalogue: OrchardCatalogue, reader: Reader) -> KindLine:
    names = [each.name for each in catalogue.cultivars_of(species.key)]
    return KindLine(
        key=species.key,
        name=species.shown_name,
        botanical=species.botanical_name,
        summary=summary_words(species, reader),
        cultivars=", ".join(names),
        is_own=species.key in catalogue.own_species,
    )
