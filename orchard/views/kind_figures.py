"""One figure of a kind, a cultivar or a tree: say it otherwise, or take that back."""

import uuid

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from orchard.access import May
from orchard.actions.own_kinds import set_figure, take_back_figure
from orchard.catalogue import CatalogueError
from orchard.catalogue.cultivars import CULTIVAR_FIGURES, FLOWER_TYPES
from orchard.catalogue.of_orchard import (
    FigureScope,
    OrchardCatalogue,
    catalogue_of,
    said_in,
)
from orchard.catalogue.overlay import SPECIES_FIGURES, Said, cells_of
from orchard.forms.figure_fields import box_value
from orchard.forms.own_kinds import FigureForm, refusal_words
from orchard.models import Tree
from orchard.views.kind_words import figure_row
from orchard.views.kinds import find_cultivar, find_kind, reader_of
from orchard.views.site_page import SitePage, let_in


@require_http_methods(["GET", "POST"])
@login_required
def kind_figure(
    request: HttpRequest, site: str, kind: str, figure: str
) -> HttpResponse:
    """Say a figure of a kind otherwise, or take that back."""
    page = let_in(request, site, May.EDIT, page="more")
    catalogue = catalogue_of(page.site.orchard)
    species = find_kind(catalogue, kind)
    _known(figure, SPECIES_FIGURES)
    back = reverse("kind", args=[page.site.slug, kind])
    return _figure(
        request,
        page,
        catalogue,
        FigureScope(kind),
        figure,
        shown=(
            species.shown_name,
            gettext("for every one of this kind in the orchard"),
            back,
        ),
    )


@require_http_methods(["GET", "POST"])
@login_required
def cultivar_figure(
    request: HttpRequest, site: str, kind: str, cultivar: str, figure: str
) -> HttpResponse:
    """Say a figure of a cultivar otherwise, or take that back."""
    page = let_in(request, site, May.EDIT, page="more")
    catalogue = catalogue_of(page.site.orchard)
    species = find_kind(catalogue, kind)
    found = find_cultivar(catalogue, kind, cultivar)
    _known(figure, CULTIVAR_FIGURES)
    if figure == "flower_type" and kind not in FLOWER_TYPES:
        raise Http404
    back = reverse("kind", args=[page.site.slug, kind])
    name = f"{species.shown_name} {found.name}"
    return _figure(
        request,
        page,
        catalogue,
        FigureScope(kind, found.name),
        figure,
        shown=(name, gettext("for every one of this cultivar in the orchard"), back),
    )


@require_http_methods(["GET", "POST"])
@login_required
def tree_figure(
    request: HttpRequest, site: str, tree: uuid.UUID, figure: str
) -> HttpResponse:
    """Say a figure of one tree otherwise, or take that back."""
    page = let_in(request, site, May.EDIT, page="trees")
    found = get_object_or_404(Tree, site=page.site, public_id=tree)
    catalogue = catalogue_of(page.site.orchard)
    find_kind(catalogue, found.species_key)
    _known(figure, SPECIES_FIGURES)
    back = reverse("tree", args=[page.site.slug, found.public_id])
    return _figure(
        request,
        page,
        catalogue,
        FigureScope(found.species_key, tree=found),
        figure,
        shown=(found.name, gettext("for this tree alone"), f"{back}#facts"),
    )


def _known(figure: str, figures: tuple[str, ...]) -> None:
    if figure not in figures:
        raise Http404


def _figure(
    request: HttpRequest,
    page: SitePage,
    catalogue: OrchardCatalogue,
    scope: FigureScope,
    figure: str,
    *,
    shown: tuple[str, str, str],
) -> HttpResponse:
    """Show the form of one figure, or keep what was typed into it."""
    name, holds, back = shown
    reader, row = reader_of(page), catalogue.row_of(scope)
    plain = catalogue.plain_row_of(scope)
    if row is None or plain is None:
        raise Http404
    if request.method == "POST" and "take_back" in request.POST:
        return _take_back(request, page, scope, figure, back=back)
    rows = catalogue.own_rows(scope)
    mine = next((each for each in rows if each.figure == figure), None)
    others = [said_in(each) for each in rows if each.figure != figure]
    form = FigureForm(
        request.POST if request.method == "POST" else None,
        figure=figure,
        reader=reader,
        species_key=scope.species_key,
        check=lambda text, source: catalogue.check(
            scope, (*others, Said(figure, text, source))
        ),
        initial={
            "value": box_value(figure, cells_of(row)[figure], reader),
            "source": mine.source if mine else "",
        },
    )
    if form.is_bound and form.is_valid() and _keep(page, scope, form):
        messages.success(
            request,
            gettext("{name}: your figure holds.").format(
                name=form.fields["value"].label
            ),
        )
        return redirect(back)
    context = page.context(
        form=form,
        name=name,
        holds=holds,
        back=back,
        label=form.fields["value"].label,
        mine=mine,
        now=figure_row(plain, figure, reader),
    )
    return render(request, "orchard/kind_figure.html", context)


def _keep(page: SitePage, scope: FigureScope, form: FigureForm) -> bool:
    try:
        set_figure(
            orchard=page.site.orchard,
            scope=scope,
            figure=form.figure,
            value=form.cleaned_data["value"],
            source=form.cleaned_data["source"],
            person=page.person,
            today=page.today,
        )
    except CatalogueError as error:  # somebody changed its pair at the same moment
        form.add_error("value", refusal_words(error, form.figure))
        return False
    return True


def _take_back(
    request: HttpRequest, page: SitePage, scope: FigureScope, figure: str, *, back: str
) -> HttpResponse:
    try:
        take_back_figure(
            orchard=page.site.orchard, scope=scope, figure=figure, person=page.person
        )
    except CatalogueError as error:
        words = refusal_words(error, figure)
        messages.error(request, gettext("Not taken back. {words}").format(words=words))
    else:
        messages.success(request, gettext("The catalogue's figure holds again."))
    return redirect(back)
