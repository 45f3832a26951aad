"""Partners: which plant gets pollen from which, what is lacking, neighbours' trees."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Page, Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.text import capfirst
from django.utils.translation import gettext
from django.views.decorators.http import require_POST, require_safe

from care.facts import LayoutFacts, Standing
from care.planning.gather_layout import layout_facts
from care.planning.kinds import kinds_of
from care.planning.partners import (
    FARTHEST_M,
    MEMORY,
    NEAR_M,
    WANTING,
    PartnerRow,
    partners_of,
)
from care.views.partner_words import (
    kind_words,
    other_words,
    partner_words,
    reach_words,
)
from care.views.references import Reference, references, works
from orchard.access import May
from orchard.actions.neighbours import add_neighbour, remove_neighbour
from orchard.catalogue.note_words import note_words
from orchard.catalogue.of_orchard import OrchardCatalogue, catalogue_of
from orchard.catalogue.search import called
from orchard.forms.neighbours import NeighbourForm
from orchard.models import Site, Tree
from orchard.units import UnitSystem, format_quantity
from orchard.views.site_page import SitePage, let_in

ON_A_PAGE = 200
#: So many of those that do not count are told of one plant, the nearest.
OTHERS_TOLD = 4
#: What the session keeps of a neighbour's tree that was struck off, by site.
STRUCK_OFF = "neighbour_struck_off"
KEPT = ("species_key", "cultivar", "note", "x_m", "y_m", "distance_m")


@dataclass(frozen=True, slots=True)
class PartnerLine:
    """One plant: how it fares, why others do not count, and who says so."""

    name: str
    address: str
    what: str
    words: str
    others: tuple[str, ...]
    more_others: int
    reach: str
    references: tuple[Reference, ...]
    is_wanting: bool


@dataclass(frozen=True, slots=True)
class KindLines:
    """The plants of one kind, and what the catalogue notes of its pollen."""

    title: str
    note: str
    is_unverified: bool
    lines: tuple[PartnerLine, ...]


@dataclass(frozen=True, slots=True)
class NeighbourLine:
    """A neighbour's tree."""

    id: int
    name: str
    what: str
    where: str


@require_safe
@login_required
def partners(request: HttpRequest, site: str) -> HttpResponse:
    """Show who pollinates whom, by kind, and what is lacking."""
    page = let_in(request, site)
    return _show(request, page, catalogue_of(page.site.orchard))


@require_POST
@login_required
def neighbour_add(request: HttpRequest, site: str) -> HttpResponse:
    """Write down a neighbour's tree."""
    page = let_in(request, site, May.EDIT)
    catalogue = catalogue_of(page.site.orchard)
    form = NeighbourForm(request.POST, units=page.units, names=catalogue.names)
    if not form.is_valid():
        return _show(request, page, catalogue, form)
    tree = add_neighbour(site=page.site, values=form.values(), person=page.person)
    messages.success(
        request, gettext("Written down: {called}.").format(called=_called(tree))
    )
    return _back(page)


@require_POST
@login_required
def neighbour_remove(request: HttpRequest, site: str, neighbour: int) -> HttpResponse:
    """Strike a neighbour's tree off."""
    page = let_in(request, site, May.EDIT)
    tree = get_object_or_404(page.site.neighbour_trees, pk=neighbour)
    values = {name: getattr(tree, name) for name in KEPT}
    remove_neighbour(tree=tree, person=page.person)
    request.session[STRUCK_OFF] = {page.site.slug: values}
    messages.success(
        request, gettext("Struck off: {called}.").format(called=_called(tree))
    )
    return _back(page)


@require_POST
@login_required
def neighbour_back(request: HttpRequest, site: str) -> HttpResponse:
    """Write down again the neighbour's tree that was struck off last."""
    page = let_in(request, site, May.EDIT)
    values = request.session.get(STRUCK_OFF, {}).get(page.site.slug)
    request.session.pop(STRUCK_OFF, None)
    if values is None:
        messages.error(request, gettext("There is none to write down again."))
        return _back(page)
    tree = add_neighbour(site=page.site, values=values, person=page.person)
    messages.success(
        request, gettext("Written down again: {called}.").format(called=_called(tree))
    )
    return _back(page)


def lack_words(page: SitePage, tree: Tree) -> str:
    """Return what the flowers of a living tree lack, empty where they lack nothing."""
    if tree.status != Tree.Status.ALIVE:
        return ""
    layout, kinds = layout_facts(page.site, page.today), kinds_of(page.site.orchard)
    rows = partners_of(layout, kinds, only=f"{Standing.OURS}-{tree.pk}")
    return next(
        (partner_words(row, page.units) for row in rows if row.verdict in WANTING), ""
    )


def _called(tree: object) -> str:
    return str(tree).replace("_", " ")


def _back(page: SitePage) -> HttpResponse:
    return redirect(f"{reverse('partners', args=[page.site.slug])}#neighbours")


def _show(
    request: HttpRequest,
    page: SitePage,
    catalogue: OrchardCatalogue,
    form: NeighbourForm | None = None,
) -> HttpResponse:
    layout = layout_facts(page.site, page.today)
    rows = partners_of(layout, kinds_of(page.site.orchard))
    ordered = sorted(rows, key=_order)
    shown: Page[PartnerRow] = Paginator(ordered, ON_A_PAGE).get_page(
        request.GET.get("page")
    )
    context = page.context(
        "more",
        has_plants=bool(rows),
        shown=shown,
        wanting=sum(row.verdict in WANTING for row in rows),
        kinds=_kinds(shown, catalogue, page),
        can_write_back=page.site.slug in request.session.get(STRUCK_OFF, {}),
        neighbours=_neighbours(layout, page.units),
        near=format_quantity(NEAR_M, "m", page.units),
        farthest=format_quantity(FARTHEST_M, "m", page.units),
        form=_form(page, catalogue, form) if page.may_edit else None,
        kind_names=sorted(one.shown_name for one in catalogue.species.values()),
    )
    status = 422 if form is not None else 200
    return render(request, "care/partners.html", context, status=status)


def _form(
    page: SitePage, catalogue: OrchardCatalogue, bound: NeighbourForm | None
) -> NeighbourForm:
    return bound or NeighbourForm(units=page.units, names=catalogue.names)


def _order(row: PartnerRow) -> tuple[bool, str, str, str]:
    """Return what puts first what lacks something, then the kinds by name."""
    facts = row.facts
    return (row.verdict not in WANTING, called(facts.species.name), row.name, row.plant)


def _addresses(site: Site) -> dict[str, str]:
    """Return the pages of our living trees, by their refs."""
    trees = site.trees.filter(status=Tree.Status.ALIVE)
    return {
        f"{Standing.OURS}-{pk}": reverse("tree", args=[site.slug, public_id])
        for pk, public_id in trees.values_list("pk", "public_id")
    }


def _kinds(
    rows: Iterable[PartnerRow], catalogue: OrchardCatalogue, page: SitePage
) -> tuple[KindLines, ...]:
    addresses = _addresses(page.site)
    by_kind: dict[str, list[PartnerRow]] = {}
    for row in rows:
        by_kind.setdefault(row.facts.species.key, []).append(row)
    return tuple(
        KindLines(
            title=capfirst(called(some[0].facts.species.name)),
            note=note_words(some[0].facts.species.pollination_note),
            is_unverified="pollination_note" in some[0].facts.species.unverified,
            lines=tuple(_line(row, catalogue, addresses, page.units) for row in some),
        )
        for some in by_kind.values()
    )


def _line(
    row: PartnerRow,
    catalogue: OrchardCatalogue,
    addresses: dict[str, str],
    units: UnitSystem,
) -> PartnerLine:
    is_wanted = row.facts.standing is Standing.WANTED
    others = row.pollination.others
    told = [each for each in others if each.why.value != "stranger"]
    what = kind_words(row.facts)
    return PartnerLine(
        name=row.name,
        address=addresses.get(row.plant, ""),
        what=gettext("{what}, wanted").format(what=what) if is_wanted else what,
        words=partner_words(row, units),
        others=tuple(other_words(each, units) for each in told[:OTHERS_TOLD]),
        more_others=max(0, len(told) - OTHERS_TOLD),
        reach=reach_words(row, units) if row.needs or row.partner else "",
        references=_references(row, catalogue),
        is_wanting=row.verdict in WANTING,
    )


def _references(row: PartnerRow, catalogue: OrchardCatalogue) -> tuple[Reference, ...]:
    """Return the works a row rests on, those of its kind's cultivars among them."""
    key = row.facts.species.key
    of_cultivars = {
        origin.source: origin.address
        for cultivar in catalogue.cultivars_of(key)
        for origin in cultivar.provenance.values()
        if origin.address
    }
    found: list[Reference] = []
    for source in row.sources:
        if source in of_cultivars:
            found += works(of_cultivars[source])
        else:
            known_as = "" if source == MEMORY else source
            found += references([known_as], catalogue.species.get(key))
    return tuple(dict.fromkeys(found))


def _neighbours(layout: LayoutFacts, units: UnitSystem) -> tuple[NeighbourLine, ...]:
    return tuple(
        NeighbourLine(
            id=int(plant.ref.removeprefix(f"{Standing.NEIGHBOUR}-")),
            name=capfirst(_called(plant.name)),
            what=kind_words(plant),
            where=_where(plant.place_m, plant.distance_m, units),
        )
        for plant in layout.plants
        if plant.standing is Standing.NEIGHBOUR
    )


def _where(
    place_m: tuple[float, float] | None, distance_m: float | None, units: UnitSystem
) -> str:
    if place_m is not None:
        return gettext("on the plan")
    if distance_m is not None:
        away = format_quantity(distance_m, "m", units)
        return gettext("{away} from the nearest of yours of its kind").format(away=away)
    return gettext("nobody measured how far away")
