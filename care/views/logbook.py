"""The log: what happened, by whom; filtered, page by page, taken back with a trace."""

from collections.abc import Mapping
from urllib.parse import urlencode

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext, ngettext
from django.views.decorators.http import require_POST, require_safe

from care.actions.one_go import undo_at_once, undo_go
from care.actions.tasks import Undone, undo_entry
from care.models import LogEntry, Task
from care.views.log_lines import LOG_KINDS, log_kinds, log_line, log_lines
from care.views.log_people import UNDONE, with_people
from care.views.task_lines import task_line
from care.views.wording import count_trees
from orchard.access import May
from orchard.models import Site
from orchard.views.site_page import SitePage, back_to, let_in

ON_A_PAGE = 50


def entries_of(site: Site) -> QuerySet[LogEntry]:
    """Return a site's log, newest first, with everything a line names."""
    return with_people(LogEntry.objects.filter(site=site))


@require_safe
@login_required
def log_page(request: HttpRequest, site: str) -> HttpResponse:
    """Show the log, newest first."""
    page = let_in(request, site)
    chosen = _chosen(request.GET)
    entries = entries_of(page.site)
    if chosen["kind"]:
        entries = entries.filter(kind=chosen["kind"])
    if chosen["tree"]:
        entries = entries.filter(tree_id=chosen["tree"])
    shown = Paginator(entries, ON_A_PAGE).get_page(request.GET.get("page"))
    trees = page.site.trees.order_by("name").values_list("pk", "name")
    context = page.context(
        "log",
        shown=shown,
        lines=log_lines(shown, page.today, page.units),
        kinds=log_kinds(),
        trees=[(str(pk), name) for pk, name in trees],
        chosen=chosen,
        is_filtered=any(chosen.values()),
        kept_filter=urlencode({k: v for k, v in chosen.items() if v}),
        here=request.get_full_path(),
    )
    return render(request, "care/logbook.html", context)


def _chosen(query: Mapping[str, str]) -> dict[str, str]:
    kind, tree = query.get("kind", ""), query.get("tree", "")
    return {
        "kind": kind if kind in LOG_KINDS else "",
        "tree": tree if tree.isascii() and tree.isdigit() and len(tree) < 10 else "",  # noqa: PLR2004 (a row's number)
    }


@require_POST
@login_required
def entry_undo(request: HttpRequest, site: str, entry: object) -> HttpResponse:
    """Take an entry back; its row stays, with who did it."""
    page = let_in(request, site, May.TICK)
    found = get_object_or_404(
        LogEntry.objects.select_related("task", "tree", "site"),
        site=page.site,
        public_id=entry,
    )
    if found.what == LogEntry.What.LOST:
        page = let_in(request, site, May.EDIT)
    if request.POST.get("all") == "ticked":
        number = undo_at_once(entry=found, person=page.person, now=page.now)
        words = ngettext(
            "Taken back: {number} task.", "Taken back: {number} tasks.", number
        )
        messages.success(request, words.format(number=number))
        return back_to(request, reverse("round", args=[page.site.slug]))
    if "all" in request.POST:
        trees = undo_go(entry=found, person=page.person, now=page.now)
        messages.success(
            request,
            gettext("Taken back for {trees}.").format(trees=count_trees(trees)),
        )
        return back_to(request, reverse("round", args=[page.site.slug]))
    undone = undo_entry(entry=found, person=page.person, now=page.now)
    if getattr(request, "htmx", False):
        return _fragment(request, page, found, undone)
    messages.success(request, gettext(UNDONE[undone]))
    return back_to(request, reverse("round", args=[page.site.slug]))


def _fragment(
    request: HttpRequest, page: SitePage, entry: LogEntry, undone: Undone
) -> HttpResponse:
    """Return what stands now in place of the entry that was undone."""
    standing = with_people(
        LogEntry.objects.filter(task_id=entry.task_id or 0, voided_at=None)
    ).first()
    if standing is not None:
        # Somebody's newer word, or what another did and only one's name came off.
        line = log_line(standing, page.today, page.units)
        context = page.context("round", line=line, said=gettext(UNDONE[undone]))
        return render(request, "care/round.html#done_line", context)
    task = (
        Task.objects.select_related("tree__block", "round")
        .filter(pk=entry.task_id or 0, status=Task.Status.OPEN)
        .first()
    )
    if task is None:
        context = page.context("round", title=gettext(UNDONE[undone]), gone="")
        return render(request, "care/round.html#gone_line", context)
    context = page.context("round", line=task_line(task, page.today, page.units))
    return render(request, "care/round.html#task_line", context)
