"""Enter a tree, or change what is known of it."""

import uuid

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import IntegrityError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_http_methods

from orchard.access import May
from orchard.actions.trees import Company, add_tree, change_tree
from orchard.catalogue.of_orchard import OrchardCatalogue, catalogue_of
from orchard.forms.tree_initial import tree_initial
from orchard.forms.trees import TreeForm
from orchard.models import Stay, Tree
from orchard.views.site_page import SitePage, let_in

SAVED_AT_ONCE = gettext_noop(
    "Somebody else saved at the same moment. Look again, then save."
)


@login_required
@require_http_methods(["GET", "POST"])
def tree_add(request: HttpRequest, site: str) -> HttpResponse:
    """Ask for three facts of a new tree and offer the rest."""
    page = let_in(request, site, May.EDIT, page="trees")
    catalogue = catalogue_of(page.site.orchard)
    initial: dict[str, object] = {"block_name": request.GET.get("block", "")}
    form = _form(request, page, initial, catalogue)
    if form.is_bound and form.is_valid():
        tree = _add(page, form)
        if tree is not None:
            messages.success(request, _entered(tree, page))
            return _after_adding(request, page, tree)
    context = _context(page, form, is_first="first" in request.GET)
    return render(request, "orchard/tree_add.html", context)


@login_required
@require_http_methods(["GET", "POST"])
def tree_edit(request: HttpRequest, site: str, tree: uuid.UUID) -> HttpResponse:
    """Change what is known of a tree."""
    page = let_in(request, site, May.EDIT, page="trees")
    found = get_object_or_404(
        Tree.objects.select_related("block", "clump", "site"),
        site=page.site,
        public_id=tree,
    )
    stay = found.stays.filter(since__lte=page.today).last()
    catalogue = catalogue_of(page.site.orchard)
    form = _form(request, page, tree_initial(found, stay, catalogue), catalogue, found)
    if form.is_bound and form.is_valid() and _change(page, found, form, stay):
        messages.success(request, gettext("{name} is changed.").format(name=found.name))
        return redirect("tree", page.site.slug, found.public_id)
    context = _context(page, form, tree=found)
    return render(request, "orchard/tree_edit.html", context)


def _entered(tree: Tree, page: SitePage) -> str:
    if tree.is_planned(page.today):
        return gettext("{name} is planned. Its care begins once it is planted.").format(
            name=tree.name
        )
    return gettext("{name} is entered.").format(name=tree.name)


def _form(
    request: HttpRequest,
    page: SitePage,
    initial: dict[str, object],
    catalogue: OrchardCatalogue,
    tree: Tree | None = None,
) -> TreeForm:
    others = page.site.trees.exclude(pk=tree.pk) if tree else page.site.trees.all()
    taken = list(others.values_list("tag", "name"))
    return TreeForm(
        request.POST if request.method == "POST" else None,
        units=page.units,
        today=page.today,
        catalogue=catalogue,
        tags_taken=frozenset(tag for tag, _ in taken if tag),
        names_taken=frozenset(name for _, name in taken),
        opened=request.GET.get("open", ""),
        initial=initial,
    )


def _company(form: TreeForm, before: Stay | None = None) -> Company:
    data = form.cleaned_data
    stay = form.stay()
    if before and stay == (before.place, before.since):
        stay = None
    names = data["block_name"].strip(), data["clump_name"].strip()
    return Company(*names, stay, hedge=form.hedge())


def _add(page: SitePage, form: TreeForm) -> Tree | None:
    try:
        return add_tree(
            site=page.site,
            values=form.tree_values(),
            today=page.today,
            company=_company(form),
            person=page.person,
        )
    except IntegrityError:
        form.add_error(None, SAVED_AT_ONCE)
        return None


def _change(page: SitePage, tree: Tree, form: TreeForm, stay: Stay | None) -> bool:
    values = form.tree_values() | {"block": None, "clump": None}
    try:
        change_tree(
            tree=tree,
            values=values,
            company=_company(form, stay),
            person=page.person,
        )
    except IntegrityError:
        form.add_error(None, SAVED_AT_ONCE)
        return False
    return True


def _after_adding(request: HttpRequest, page: SitePage, tree: Tree) -> HttpResponse:
    slug = page.site.slug
    if "another" in request.POST:
        block = tree.block.name if tree.block else ""
        query = {"block": block} | ({"first": "1"} if "first" in request.GET else {})
        return redirect(reverse("tree_add", args=[slug], query=query))
    return redirect("round" if "first" in request.GET else "trees", slug)


def _cultivars(form: TreeForm) -> list[str]:
    """Return the cultivars to choose from: of the kind that is said, or of all."""
    found = form.catalogue.names.named(str(form["species"].value() or ""))
    keys = [found.key] if found else list(form.catalogue.species)
    names = {one.name for key in keys for one in form.catalogue.cultivars_of(key)}
    return sorted(names)


def _context(page: SitePage, form: TreeForm, **more: object) -> dict[str, object]:
    return (
        page.context()
        | more
        | {
            "form": form,
            "species": sorted(s.shown_name for s in form.catalogue.species.values()),
            "cultivars": _cultivars(form),
            "blocks": page.site.blocks.values_list("name", flat=True),
            "clumps": page.site.clumps.values_list("name", flat=True),
        }
    )
