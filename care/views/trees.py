"""The trees: a list by block, and the page of each."""

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from care.planning.plan_site import ensure_planned
from care.views.tree_lines import living_trees, matches, tree_blocks, with_grafts
from care.views.tree_sheet import find_tree, show_tree
from orchard.catalogue.of_orchard import catalogue_of
from orchard.models import Tree
from orchard.views.site_page import let_in

ON_A_PAGE = 200


@require_safe
@login_required
def tree_list(request: HttpRequest, site: str) -> HttpResponse:
    """Show the living trees by block, each with one phrase on its state."""
    page = let_in(request, site)
    ensure_planned(page.site, page.today)
    words = request.GET.get("q", "").strip()[:80]
    living = list(with_grafts(living_trees(page.site)))
    kinds = catalogue_of(page.site.orchard)
    found = [tree for tree in living if matches(tree, words, kinds)]
    shown = Paginator(found, ON_A_PAGE).get_page(request.GET.get("page"))
    gone = page.site.trees.exclude(status=Tree.Status.ALIVE).order_by("-ended_on")
    context = page.context(
        "trees",
        words=words,
        count=len(living),
        shown=shown,
        blocks=tree_blocks(shown, page.today, page.units, kinds),
        gone=gone,
    )
    return render(request, "care/trees.html", context)


@require_safe
@login_required
def tree_page(request: HttpRequest, site: str, tree: object) -> HttpResponse:
    """Show one tree: state, work, readings, facts, log."""
    page = let_in(request, site)
    ensure_planned(page.site, page.today)
    return show_tree(request, page, find_tree(page, tree))
