"""Papers that members signed: coordinators record them, members see their own."""

from dataclasses import dataclass

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods, require_POST

from orchard.access import May
from orchard.actions.ways_in import record_paper, remove_paper
from orchard.forms.ways_in import PaperForm
from orchard.models import SignedPaper
from orchard.views.helping_words import day_words
from orchard.views.site_page import SitePage, let_in


@dataclass(frozen=True, slots=True)
class PaperLine:
    """One paper, in words."""

    pk: int
    title: str
    when: str
    note: str
    is_over: bool


@require_http_methods(["GET", "POST"])
@login_required
def signed_papers(request: HttpRequest, site: str) -> HttpResponse:
    """Show what was signed; record one more."""
    is_sent = request.method == "POST"
    page = let_in(request, site, May.ARRANGE if is_sent else May.SEE, page="more")
    form = _form(request, page) if page.may_arrange else None
    if form is not None and form.is_bound and form.is_valid():
        data = form.cleaned_data
        paper = record_paper(
            by=page.membership,
            member=form.chosen_member(),
            what=data["what"],
            signed_on=data["signed_on"],
            until=data["until"],
            note_text=data["note"],
            now=page.now,
        )
        messages.success(
            request, gettext("{what} is recorded.").format(what=paper.what)
        )
        return redirect("signed_papers", page.site.slug)
    context = page.context(lines=_lines(page), form=form)
    status = 422 if form is not None and form.is_bound else 200
    return render(request, "orchard/signed_papers.html", context, status=status)


@require_POST
@login_required
def signed_paper_remove(request: HttpRequest, site: str, paper: int) -> HttpResponse:
    """Strike off the record of a paper."""
    page = let_in(request, site, May.ARRANGE)
    rows = SignedPaper.objects.select_related(
        "membership__person", "membership__orchard"
    )
    row = get_object_or_404(rows, membership__orchard=page.site.orchard_id, pk=paper)
    remove_paper(by=page.membership, paper=row, now=page.now)
    messages.success(request, gettext("{what} is struck off.").format(what=row.what))
    return redirect("signed_papers", page.site.slug)


def _form(request: HttpRequest, page: SitePage) -> PaperForm:
    members = page.membership.orchard.memberships.select_related("person", "orchard")
    data = request.POST if request.method == "POST" else None
    return PaperForm(data, members=list(members.order_by("pk")), today=page.today)


def _lines(page: SitePage) -> list[PaperLine]:
    """Return everybody's papers for who may arrange, else one's own."""
    rows = SignedPaper.objects.filter(membership__orchard=page.membership.orchard_id)
    if not page.may_arrange:
        rows = rows.filter(membership=page.membership)
    return [_line(page, row) for row in rows.select_related("membership__person")]


def _line(page: SitePage, row: SignedPaper) -> PaperLine:
    is_over = row.until is not None and row.until < page.today
    if row.until is None:
        words = gettext("Signed {day}")
    elif is_over:
        words = gettext("Signed {day}, ended {until}")
    else:
        words = gettext("Signed {day}, valid until {until}")
    when = words.format(
        day=day_words(row.signed_on), until=day_words(row.until) if row.until else ""
    )
    name = row.membership.person.shown_name
    title = f"{name}: {row.what}" if page.may_arrange else row.what
    return PaperLine(row.pk, title, when, row.note, is_over)
