"""A volunteer without an account: opens a link, gives a name, sees that one round.

Nothing else of the orchard answers to the cookie. Every address here asks
``helper_at`` who comes and which round that is.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from functools import wraps
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from care.actions.helper_links import (
    FullError,
    LinkState,
    NoWayInError,
    enter_as_helper,
    helper_at,
    open_link,
)
from care.actions.logbook import write_note
from care.actions.same_job import SameJobError
from care.actions.tasks import NotOpenError, complete_task, undo_entry
from care.forms.helper_name import HelperNameForm
from care.forms.trees import NoteForm
from care.forms.work import DoneForm
from care.models import Helper, HelperLink, LogEntry, Round, Task
from care.planning.days_ahead import read_near_days
from care.planning.plan_site import ensure_planned
from care.views.days import full_day
from care.views.helper_cookie import (
    UNITS_COOKIE,
    guarded,
    helper_secret,
    keep_secret,
    keep_units,
)
from care.views.helper_photo_lines import helper_photos
from care.views.helper_sheet import (
    LoggedLine,
    helper_sheet,
    helper_tasks,
    is_of,
    logged_line,
    note_form_of,
    round_words,
    tick_form,
)
from care.views.log_people import UNDONE, already_words
from care.views.people_words import danger_words
from care.views.same_job import ask_same_job, reply_of
from care.views.walk_sheet import held_lines
from care.views.warning_words import for_people, quoted_all
from orchard.access import May
from orchard.models import Site
from orchard.sources.official_warnings import site_moment, warnings_at
from orchard.units import UnitSystem
from orchard.views.guess_limit import count_guess, may_guess
from orchard.views.ways_in_words import EMERGENCY_FIRST, way_in_of

CLOSED = {
    None: gettext_noop(
        "Open the link you were sent; this address alone shows nothing."
    ),
    LinkState.EXPIRED: gettext_noop("It worked until the day after its round."),
    LinkState.REVOKED: gettext_noop("Whoever looks after the orchard has closed it."),
}
FULL = gettext_noop("As many people as it takes have opened it.")
TOO_MANY = gettext_noop(
    "Too many links that do not exist. Wait a minute, then try again."
)
GONE = gettext_noop("That is no longer asked for: something changed in the meantime.")


@dataclass(frozen=True, slots=True)
class HelperPage:
    """A helper, let in to one round."""

    helper: Helper
    round: Round
    today: date
    now: datetime
    units: UnitSystem

    @property
    def site(self) -> Site:
        """Where the round is; never in a page's context, whose bar is for members."""
        return self.helper.link.site

    @property
    def ends_at(self) -> datetime:
        """When the link ends."""
        return self.helper.link.expires_at


HelperView = Callable[..., HttpResponse]


def for_helpers(what: May) -> Callable[[HelperView], HelperView]:
    """Let a view be called with the page of a helper who may do ``what``."""

    def wrap(view: HelperView) -> HelperView:
        @wraps(view)
        def answer(request: HttpRequest, **named: object) -> HttpResponse:
            if not may_guess(request):
                return _closed(request, gettext(TOO_MANY), 429)
            now = timezone.now()
            try:
                helper, one = helper_at(helper_secret(request), what, now)
            except NoWayInError as refused:
                is_guess = bool(helper_secret(request))
                return _no_way_in(request, refused, is_guess=is_guess)
            site = helper.link.site
            units = _units(request, helper.link)
            page = HelperPage(helper, one, site.today(now), now, units)
            ensure_planned(site, page.today)
            return guarded(view(request, page, **named), has_form=True)

        return answer

    return wrap


def _units(request: HttpRequest, link: HelperLink) -> UnitSystem:
    chosen = request.COOKIES.get(UNITS_COOKIE, "")
    if chosen in set(UnitSystem):
        return UnitSystem(chosen)
    return UnitSystem(link.made_by.units) if link.made_by else UnitSystem.METRIC


def _no_way_in(
    request: HttpRequest, refused: NoWayInError, *, is_guess: bool
) -> HttpResponse:
    if refused.state is not None:
        return _closed(request, gettext(CLOSED[refused.state]), 410)
    if is_guess:
        count_guess(request)
    return _closed(request, gettext(CLOSED[None]), 404)


def _closed(request: HttpRequest, why: str, status: int) -> HttpResponse:
    context = {"state": "closed", "why": why}
    return guarded(render(request, "care/helper.html", context, status=status))


@require_http_methods(["GET", "HEAD", "POST"])
def helper_open(request: HttpRequest, helper_token: str) -> HttpResponse:
    """Say what the link is for and ask a name (GET); swap it for a cookie (POST)."""
    if not may_guess(request):
        return _closed(request, gettext(TOO_MANY), 429)
    now = timezone.now()
    try:
        link = open_link(helper_token, now)
        form = HelperNameForm(request.POST if request.method == "POST" else None)
        if form.is_bound and form.is_valid():
            return _enter(request, helper_token, form.cleaned_data["name"], now)
    except NoWayInError as refused:
        return _no_way_in(request, refused, is_guess=True)
    except FullError:
        return _closed(request, gettext(FULL), 410)
    if not form.is_bound and _is_in_already(request, link, now):
        return guarded(redirect("helper"))
    context = {**_round_context(link.round, link.site, now), "form": form}
    status = 422 if form.errors else 200
    page = render(
        request, "care/helper.html", {**context, "state": "name"}, status=status
    )
    return guarded(page, has_form=True)


def _enter(request: HttpRequest, token: str, name: str, now: datetime) -> HttpResponse:
    helper, secret = enter_as_helper(token=token, name=name, now=now)
    response = redirect("helper")
    keep_secret(response, secret, helper.link.expires_at, now)
    return guarded(response)


def _is_in_already(request: HttpRequest, link: HelperLink, now: datetime) -> bool:
    """Whether this browser has been through this very link."""
    try:
        helper, _ = helper_at(helper_secret(request), May.SEE, now)
    except NoWayInError:
        return False
    return helper.link_id == link.pk


def _round_context(one: Round, site: Site, now: datetime) -> dict[str, object]:
    today = site.today(now)
    return {
        "orchard": site.orchard.name,
        "place": one.block.name if one.block else site.name,
        "day": full_day(one.day),
        "round_words": round_words(one, site, today),
        "is_today": one.day == today,
        "today": today,
    }


@require_safe
@for_helpers(May.SEE)
def helper(request: HttpRequest, page: HelperPage) -> HttpResponse:
    """Show the round."""
    return _show(request, page, {})


def _show(
    request: HttpRequest,
    page: HelperPage,
    refused: dict[UUID, DoneForm | NoteForm],
) -> HttpResponse:
    moment = site_moment(page.site, page.now)
    warnings = for_people(warnings_at(page.site, moment))
    sheet = helper_sheet(page.helper, page.round, page.today, page.units, refused)
    dangers = danger_words(read_near_days(page.site, page.today), page.units)
    context = {
        **_round_context(page.round, page.site, page.now),
        "state": "round",
        "warnings": quoted_all(warnings, page.site, moment),
        "dangers": [words for words in dangers if words not in sheet.cautions],
        "helper": page.helper,
        "sheet": sheet,
        "photos": helper_photos(page.helper, page.today),
        "way_in": way_in_of(page.site, with_key=False),
        "emergency_first": EMERGENCY_FIRST,
        "held": held_lines(page.site, page.today, page.round.block),
        "is_metric": page.units is UnitSystem.METRIC,
    }
    status = 422 if refused else 200
    return render(request, "care/helper.html", context, status=status)


def _task(page: HelperPage, task: object) -> Task:
    mine = helper_tasks(page.helper, page.round, page.today)
    return get_object_or_404(mine, public_id=task)


def _back(task: Task) -> HttpResponse:
    target = redirect("helper")
    target["Location"] += f"#task-{task.public_id}"
    return target


@require_POST
@for_helpers(May.TICK)
def helper_tick(request: HttpRequest, page: HelperPage, task: object) -> HttpResponse:
    """Tick one task of the round."""
    found = _task(page, task)
    form = tick_form(found, page.today, page.units, request.POST)
    if not form.is_valid():
        return _show(request, page, {found.public_id: form})
    try:
        outcome = complete_task(
            task=found,
            person=None,
            helper=page.helper,
            on=page.today,
            now=page.now,
            amount=form.cleaned_data.get("amount"),
            note=form.cleaned_data["note"],
            reply=reply_of(request.POST),
        )
    except SameJobError as same:

        def line(entry: LogEntry) -> LoggedLine:
            return logged_line(entry, page.today, page.units)

        return ask_same_job(request, {}, same, line)
    except NotOpenError:
        messages.warning(request, gettext(GONE))
        return _back(found)
    said = already_words(outcome, found, page.site, page.today, page.helper)
    messages.success(request, said or gettext("Noted, thank you."))
    return _back(found)


@require_POST
@for_helpers(May.TICK)
def helper_undo(request: HttpRequest, page: HelperPage, entry: object) -> HttpResponse:
    """Undo one's own tick."""
    found = get_object_or_404(
        LogEntry.objects.select_related("task", "tree", "site"),
        site=page.site,
        task__isnull=False,
        public_id=entry,
    )
    if not is_of(found, page.helper):
        return _closed(
            request, gettext("Only what you ticked yourself is yours to undo."), 404
        )
    undone = undo_entry(entry=found, person=None, helper=page.helper, now=page.now)
    messages.success(request, gettext(UNDONE[undone]))
    return _back(found.task) if found.task else redirect("helper")


@require_POST
@for_helpers(May.TICK)
def helper_note(request: HttpRequest, page: HelperPage, task: object) -> HttpResponse:
    """Write a note on the tree of one task."""
    found = _task(page, task)
    form = note_form_of(found, request.POST)
    if not form.is_valid():
        return _show(request, page, {found.public_id: form})
    write_note(
        site=page.site,
        tree=found.tree,
        note=form.cleaned_data["note"],
        person=None,
        helper=page.helper,
        on=page.today,
        now=page.now,
    )
    messages.success(
        request, gettext("Your note is kept. Whoever looks after it can read it.")
    )
    return _back(found)


@require_POST
@for_helpers(May.SEE)
def helper_units(request: HttpRequest, page: HelperPage) -> HttpResponse:
    """Keep which units this browser shows."""
    response = redirect("helper")
    chosen = request.POST.get("units", "")
    if chosen in set(UnitSystem):
        keep_units(response, chosen, page.ends_at, page.now)
    return response
