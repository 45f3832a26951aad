"""Helper links: make one for a round, see it once, see who came by it, close it."""

from dataclasses import dataclass
from datetime import date, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

import segno
from django import forms
from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db.models import Prefetch
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from care.actions.helper_links import (
    LinkState,
    links,
    make_helper_link,
    revoke_helper_link,
    rounds_to_link,
    state_of,
)
from care.models import Helper, HelperLink, LogEntry, Round, Shift
from care.planning.plan_site import ensure_planned
from care.views.days import full_day
from care.views.helper_sheet import round_words
from care.views.log_lines import log_line
from care.views.log_people import name_of, with_people
from care.views.shift_page import find_shift
from orchard.access import May
from orchard.languages import clock
from orchard.views.site_page import SitePage, let_in

SHOWN_FOR = timedelta(days=60)
MOST_SHOWN = 50


class RoundForm(forms.Form):
    """Which round a helper is asked for."""

    def __init__(self, data: object, *, rounds: list[tuple[str, str]]) -> None:
        super().__init__(data)  # type: ignore[arg-type]  # a QueryDict or None
        self.fields["round"] = forms.ChoiceField(
            label=gettext("For which round?"),
            choices=rounds,
            error_messages={
                "required": gettext("Choose a round."),
                "invalid_choice": gettext("That round has changed. Choose another."),
            },
        )


@dataclass(frozen=True, slots=True)
class HelperRow:
    """One volunteer and what they did."""

    name: str
    came: str
    done: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LinkRow:
    """One link: its round, what became of it, who came by it."""

    pk: int
    round_words: str
    state: str
    is_open: bool
    made: str
    helpers: tuple[HelperRow, ...]


@dataclass(frozen=True, slots=True)
class Shown:
    """A new link, this once."""

    address: str
    square: SafeString
    round_words: str
    until: str


@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def helper_links(request: HttpRequest, site: str) -> HttpResponse:
    """Show the links and who came by them; make one and show its secret this once."""
    page = let_in(request, site, May.ARRANGE)
    ensure_planned(page.site, page.today)
    shift = _asked_shift(page, request.GET.get("shift", ""))
    found = rounds_to_link(page.site, page.today)
    rounds = {
        str(one.uid): one
        for one in found
        if shift is None or is_of_shift(one, shift, page.today)
    }
    choices = [
        (uid, round_words(one, page.site, page.today)) for uid, one in rounds.items()
    ]
    form = RoundForm(request.POST or None, rounds=choices)
    shown = None
    if form.is_bound and form.is_valid():
        link, token = make_helper_link(
            membership=page.membership,
            one=rounds[form.cleaned_data["round"]],
            now=page.now,
        )
        shown = _shown(page, link, token)
    context = page.context(
        "more",
        form=form,
        shown=shown,
        rounds=len(rounds),
        shift=shift,
        links=[_row(page, link) for link in _links(page)],
    )
    status = 422 if form.errors else 200
    return render(request, "care/helper_links.html", context, status=status)


def _asked_shift(page: SitePage, typed: str) -> Shift | None:
    """Return the shift that a link is asked for, if one is.

    Raises
    ------
    Http404
        There is none of that id here.
    """
    if not typed:
        return None
    try:
        return find_shift(page, UUID(typed))
    except ValueError as error:
        raise Http404 from error


def is_of_shift(one: Round, shift: Shift, today: date) -> bool:
    """Whether a round is walked on a shift; one of today also takes what is late."""
    is_then = one.day == shift.day or (one.day < shift.day == today)
    return is_then and shift.block_id in (None, one.block_id)


def _shown(page: SitePage, link: HelperLink, token: str) -> Shown:
    address = settings.BASE_URL + reverse("helper_open", args=[token])
    drawn = segno.make(address, error="m", micro=False).svg_inline(
        scale=4, omitsize=True, dark="#000", light="#fff", svgclass="square"
    )
    return Shown(
        address=address,
        # It is made of our own address: nothing typed is in it.
        square=mark_safe(drawn),  # noqa: S308
        round_words=round_words(link.round, page.site, page.today),
        until=_moment(page, link),
    )


def _moment(page: SitePage, link: HelperLink) -> str:
    last = link.expires_at.astimezone(ZoneInfo(page.site.time_zone))
    return gettext("the end of {day}").format(
        day=full_day((last - timedelta(minutes=1)).date())
    )


def _links(page: SitePage) -> list[HelperLink]:
    ticks = with_people(
        LogEntry.objects.filter(voided_at=None).order_by("recorded_at", "id")
    )
    helpers = Helper.objects.prefetch_related(
        Prefetch("log", queryset=ticks, to_attr="done")
    )
    recent = links().filter(site=page.site, made_at__gt=page.now - SHOWN_FOR)
    return list(
        recent.prefetch_related(Prefetch("helpers", queryset=helpers))[:MOST_SHOWN]
    )


def _row(page: SitePage, link: HelperLink) -> LinkRow:
    state = state_of(link, page.now)
    words = {
        LinkState.OPEN: gettext("Open until {moment}").format(
            moment=_moment(page, link)
        ),
        LinkState.EXPIRED: gettext("Ended at {moment}").format(
            moment=_moment(page, link)
        ),
        LinkState.REVOKED: gettext("Closed"),
    }
    return LinkRow(
        pk=link.pk,
        round_words=round_words(link.round, page.site, page.today),
        state=words[state],
        is_open=state is LinkState.OPEN,
        made=gettext("Made by {name}").format(name=name_of(link.made_by, None)),
        helpers=tuple(_helper(page, helper) for helper in link.helpers.all()),
    )


def _helper(page: SitePage, helper: Helper) -> HelperRow:
    entries: list[LogEntry] = getattr(helper, "done")  # noqa: B009 (prefetched above)
    came = helper.first_seen_at.astimezone(ZoneInfo(page.site.time_zone))
    lines = (log_line(entry, page.today, page.units) for entry in entries)
    return HelperRow(
        name=helper.name,
        came=gettext("first here {day}, {time}").format(
            day=full_day(came.date()), time=clock(came)
        ),
        done=tuple(
            f"{line.title}, {line.amount}" if line.amount else line.title
            for line in lines
        ),
    )


@require_POST
@login_required
def helper_link_revoke(
    request: HttpRequest, site: str, helper_link: int
) -> HttpResponse:
    """Close a link: it and every cookie it gave stop working at once."""
    page = let_in(request, site, May.ARRANGE)
    is_closed = revoke_helper_link(
        membership=page.membership, link_id=helper_link, now=page.now
    )
    said = (
        gettext("Closed: the link no longer works.")
        if is_closed
        else gettext("Closed already.")
    )
    messages.success(request, said)
    return redirect("helper_links", page.site.slug)
