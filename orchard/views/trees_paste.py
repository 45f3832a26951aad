"""Many trees at once: paste a list, look at what was understood, enter them."""

from dataclasses import asdict
from datetime import date

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from orchard.access import May
from orchard.actions.people import hash_of
from orchard.actions.trees import add_trees
from orchard.catalogue.of_orchard import OrchardCatalogue, catalogue_of
from orchard.forms.tree_list import ParsedTrees, parse_tree_list
from orchard.forms.trees_paste import TreesPasteForm
from orchard.views.site_page import let_in


@login_required
@require_http_methods(["GET", "POST"])
def trees_paste(request: HttpRequest, site: str) -> HttpResponse:
    """Show what a pasted list means (look), or enter all of it (enter)."""
    page = let_in(request, site, May.EDIT, page="trees")
    form = TreesPasteForm(request.POST or None)
    parsed: ParsedTrees | None = None
    catalogue = catalogue_of(page.site.orchard)
    if form.is_bound and form.is_valid():
        pasted = form.cleaned_data["pasted"]
        parsed = parse_tree_list(pasted, page.today, page.units, catalogue.names)
        is_seen = request.POST.get("seen") == _pasted_mark(pasted)
        if parsed.to_store and "enter" in request.POST and is_seen:
            trees = add_trees(
                site=page.site,
                rows=[asdict(row) for row in parsed.to_store],
                block_name=form.cleaned_data["block_name"].strip(),
                today=page.today,
                person=page.person,
            )
            messages.success(
                request,
                gettext("{number} trees are entered.").format(number=len(trees)),
            )
            return redirect("round" if "first" in request.GET else "trees", site)
    context = page.context(
        form=form,
        parsed=parsed,
        lines=_lines(parsed, page.today, catalogue),
        seen=_pasted_mark(form.cleaned_data["pasted"]) if parsed else "",
        blocks=page.site.blocks.values_list("name", flat=True),
        is_first="first" in request.GET,
    )
    return render(request, "orchard/trees_paste.html", context)


def _pasted_mark(pasted: str) -> str:
    """Return what tells whether a text is the one that was looked at."""
    return hash_of(pasted)


def _lines(
    parsed: ParsedTrees | None, today: date, catalogue: OrchardCatalogue
) -> list[dict[str, object]]:
    """Return what was understood, for reading over."""
    if parsed is None:
        return []
    return [
        {
            "row": row,
            "species": catalogue.species[row.species_key].shown_name,
            "is_planned": row.planted_on is not None and row.planted_on > today,
        }
        for row in parsed.rows
    ]
