"""Labels for trees to print, and what a scan of one shows."""

from dataclasses import dataclass
from urllib.parse import urlencode

from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from care.actions.tree_reports import EnoughError, tell_of_tree
from care.charts.labels import spoken, square_of
from care.forms.tree_reports import TreeReportForm
from care.planning.tree_codes import codes_of, tree_of_code
from care.views.tree_lines import living_trees, species_name
from orchard.catalogue.of_orchard import catalogue_of
from orchard.models import Person, Tree
from orchard.views.guess_limit import (
    count_guess,
    count_report,
    may_guess,
    may_report,
)
from orchard.views.site_page import SitePage, let_in

ON_A_PAGE = 60
TOO_MANY = gettext_noop(
    "Too many codes that do not exist. Wait a minute, then try again."
)
NOT_NOW = gettext_noop(
    "Enough was told from here for now, and this was not sent. Wait an hour, or tell "
    "somebody of the garden."
)
SENT = gettext_noop("Thank you. Whoever looks after the garden gets it as a message.")


@dataclass(frozen=True, slots=True)
class Label:
    """One label: the tree's name, what it is, its tag, its code and square."""

    name: str
    species: str
    tag: str
    code: str
    square: SafeString


@require_safe
@login_required
def tree_labels(request: HttpRequest, site: str) -> HttpResponse:
    """Show the labels of a block's trees, or of all, as a sheet to print."""
    page = let_in(request, site)
    trees = living_trees(page.site)
    typed = request.GET.get("block", "")
    block = None
    if typed:
        number = int(typed) if typed.isdecimal() and len(typed) < 10 else 0  # noqa: PLR2004 (what a database holds)
        block = get_object_or_404(page.site.blocks, pk=number)
        trees = trees.filter(block=block)
    shown = Paginator(trees, ON_A_PAGE).get_page(request.GET.get("page"))
    context = page.context(
        "trees",
        labels=_labels(page, list(shown)),
        shown=shown,
        chosen=block,
        blocks=page.site.blocks.all(),
        kept_filter=urlencode({"block": block.pk}) if block else "",
    )
    return render(request, "care/tree_labels.html", context)


def _labels(page: SitePage, trees: list[Tree]) -> list[Label]:
    kinds = catalogue_of(page.site.orchard)
    codes = codes_of(trees)
    return [
        Label(
            name=tree.name,
            species=species_name(tree, kinds),
            tag=tree.tag,
            code=spoken(codes[tree.pk]),
            square=_square(codes[tree.pk]),
        )
        for tree in trees
    ]


def _square(code: str) -> SafeString:
    address = settings.BASE_URL + reverse("tree_scan", args=[code])
    # It is made of our own address and a code: nothing typed is in it.
    return mark_safe(square_of(address).svg)  # noqa: S308


@never_cache
@require_safe
def tree_scan(request: HttpRequest, code: str) -> HttpResponse:
    """Lead a member to their tree; show anybody else what hangs on it anyway."""
    found = _found(request, code)
    if isinstance(found, HttpResponse):
        return found
    return _show(request, code, found, TreeReportForm())


@never_cache
@require_POST
def tree_tell(request: HttpRequest, code: str) -> HttpResponse:
    """Pass on what somebody saw; of members nothing is taken here."""
    found = _found(request, code)
    if isinstance(found, HttpResponse):
        return found
    form = TreeReportForm(request.POST)
    if not form.is_valid():
        return _show(request, code, found, form, status=422)
    if not _is_passed_on(request, found, form.cleaned_data["seen"]):
        form.add_error(None, gettext(NOT_NOW))
        return _show(request, code, found, form, status=429)
    messages.success(request, gettext(SENT))
    return _guarded(redirect("tree_scan", code))


def _is_passed_on(request: HttpRequest, tree: Tree, words: str) -> bool:
    if not may_report(request):
        return False
    count_report(request)
    try:
        tell_of_tree(tree=tree, words=words, now=timezone.now())
    except EnoughError:
        return False
    return True


def _found(request: HttpRequest, code: str) -> Tree | HttpResponse:
    """Return a stranger's tree, or the answer there is for anybody else.

    Raises
    ------
    Http404
        No label has the code.
    """
    if not may_guess(request):
        page = render(
            request, "care/tree_scan.html", {"why": gettext(TOO_MANY)}, status=429
        )
        return _guarded(page)
    person = request.user if isinstance(request.user, Person) else None
    tree, is_member = tree_of_code(code, person)
    if tree is None:
        count_guess(request)
        raise Http404
    if is_member:
        return _guarded(redirect("tree", tree.site.slug, tree.public_id))
    return tree


def _show(
    request: HttpRequest,
    code: str,
    tree: Tree,
    form: TreeReportForm,
    status: int = 200,
) -> HttpResponse:
    here = reverse("tree_scan", args=[code])
    context = {
        "name": tree.name,
        "species": species_name(tree, catalogue_of(tree.site.orchard)),
        "form": form,
        "code": code,
        "is_signed_in": isinstance(request.user, Person),
        "login_address": reverse("account_login", query={"next": here}),
    }
    page = render(request, "care/tree_scan.html", context, status=status)
    return _guarded(page)


def _guarded(response: HttpResponse) -> HttpResponse:
    response["X-Robots-Tag"] = "noindex"
    return response
