"""As what everybody helps, for coordinators: skills, learners, the young."""

from dataclasses import dataclass

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_http_methods, require_safe

from orchard.access import May, may
from orchard.actions.helping import HelpingError, describe_helper, helping_of
from orchard.forms.helping import HelperForm
from orchard.models import Membership
from orchard.views.helping_words import helper_words, offer_lines
from orchard.views.site_page import SitePage, let_in

ONLY_LOOKS = gettext_noop("Only looks on: offers no days and gets no place.")


@dataclass(frozen=True, slots=True)
class HelperLine:
    """One member: as what they help, and what they offer."""

    pk: int
    name: str
    is_you: bool
    helps_as: tuple[str, ...]
    offers: tuple[str, ...]


@require_safe
@login_required
def helpings(request: HttpRequest, site: str) -> HttpResponse:
    """Show as what each member helps and what they offer."""
    page = let_in(request, site, May.ARRANGE, page="more")
    members = (
        page.membership.orchard.memberships.select_related("person", "helping")
        .prefetch_related("offered", "helping__mentors__person")
        .order_by("pk")
    )
    lines = [_line(page, member) for member in members]
    lines.sort(key=lambda line: line.name.casefold())
    context = page.context(lines=lines, is_alone=len(lines) == 1)
    return render(request, "orchard/helpings.html", context)


def _line(page: SitePage, member: Membership) -> HelperLine:
    helping = helping_of(member)
    mentors = helping.mentors.all() if helping.pk else ()
    is_helper = may(member.role, May.TICK)
    rows = list(member.offered.all())
    return HelperLine(
        pk=member.pk,
        name=member.person.shown_name,
        is_you=member.pk == page.membership.pk,
        helps_as=helper_words(helping, [one.person.shown_name for one in mentors]),
        offers=offer_lines(rows, page.today) if is_helper else (gettext(ONLY_LOOKS),),
    )


@require_http_methods(["GET", "POST"])
@login_required
def helping(request: HttpRequest, site: str, member: int) -> HttpResponse:
    """Say as what one member helps."""
    page = let_in(request, site, May.ARRANGE, page="more")
    members = (
        page.membership.orchard.memberships.select_related("person", "helping")
        .prefetch_related("helping__mentors")
        .order_by("pk")
    )
    everybody = list(members)
    row = next((each for each in everybody if each.pk == member), None)
    if row is None:
        raise Http404
    data = request.POST if request.method == "POST" else None
    form = HelperForm(data, member=row, members=everybody)
    if data is not None and form.is_valid() and _describe(request, page, row, form):
        return redirect("helpings", page.site.slug)
    context = page.context(form=form, member=row, name=row.person.shown_name)
    status = 422 if form.is_bound else 200
    return render(request, "orchard/helping.html", context, status=status)


def _describe(
    request: HttpRequest, page: SitePage, member: Membership, form: HelperForm
) -> bool:
    """Write what a valid form says; say at its field why it cannot be."""
    try:
        is_news = describe_helper(
            by=page.membership, member=member, facts=form.facts(), now=page.now
        )
    except HelpingError as error:
        form.tell(error)
        return False
    name = member.person.shown_name
    messages.success(
        request,
        gettext("{name}: kept.").format(name=name)
        if is_news
        else gettext("{name}: nothing was changed.").format(name=name),
    )
    return True
