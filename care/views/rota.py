"""The rota: who is on which shift, proposed and published by who arranges shifts."""

from dataclasses import dataclass
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext, ngettext
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from care.actions.rota import Span, clear_proposal, propose
from care.actions.rota_publish import (
    ChangedMeanwhileError,
    NothingToPublishError,
    drafts_of,
    publish,
    seal_of,
    told_lines,
)
from care.forms.rota import FromForm
from care.models import Shift
from care.planning.plan_site import ensure_planned
from care.planning.rota_changes import changes_since, last_published
from care.planning.rota_facts import read_rota
from care.planning.rota_plan import USUAL_WEEKS, RotaPlan, loads, standing
from care.planning.rota_rows import is_proposed
from care.planning.shift_shares import helper_seasons
from care.views.days import full_day, short_day
from care.views.place_words import share_words
from care.views.rota_sheet import weeks_of
from care.views.rota_words import change_words, load_words
from care.views.shifts import fill
from orchard.access import May
from orchard.views.site_page import SitePage, let_in

SHOWN = timedelta(weeks=USUAL_WEEKS)
DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Changes:
    """What changed since the rota was last published."""

    since: str
    lines: tuple[str, ...]


@require_safe
@login_required
def rota(request: HttpRequest, site: str) -> HttpResponse:
    """Show four weeks of the rota; growers see what is published."""
    page = let_in(request, site, page="more")
    form = FromForm(request.GET or None, today=page.today)
    is_wrong = form.is_bound and not form.is_valid()
    first = form.monday
    ensure_planned(page.site, page.today)
    fill(page)
    plan = standing(read_rota(page.site, first, first + SHOWN - DAY, page.today))
    names = {pk: one.name for pk, one in plan.facts.rows.members.items()}
    weeks = weeks_of(plan, names, page.person.pk, arranges=page.may_arrange)
    shown = [row for week in weeks for row in week.shifts]
    context = page.context(
        form=form,
        span=gettext("{first} to {last}").format(
            first=short_day(first, page.today),
            last=short_day(first + SHOWN - DAY, page.today),
        ),
        first=first.isoformat(),
        earlier=(first - SHOWN).isoformat(),
        later=(first + SHOWN).isoformat(),
        weeks=weeks,
        open_number=sum(place.is_open for row in shown for place in row.places),
        has_drafts=any(row.is_draft for row in shown),
        has_proposed=_has_proposed(plan),
        has_shifts=bool(weeks) or Shift.objects.filter(site=page.site).exists(),
        has_offers=any(offer.days for offer in plan.facts.offers),
        changes=_changes(page),
    )
    context |= _loads(page, plan)
    status = 422 if is_wrong else 200
    return render(request, "care/rota.html", context, status=status)


def _has_proposed(plan: RotaPlan) -> bool:
    rows = plan.facts.rows
    return any(
        place.holder_id is not None and is_proposed(place)
        for pk, shift in rows.shifts.items()
        if shift.status == Shift.Status.DRAFT and rows.is_to_fill(shift)
        for place in rows.places[pk]
    )


def _loads(page: SitePage, plan: RotaPlan) -> dict[str, object]:
    """Return one's own share, and for who arranges shifts everybody's, by name."""
    seasons = helper_seasons(page.site, page.today)
    mine = seasons.get(page.person.pk)
    own = share_words(mine.shifts, mine.fair) if mine else ""
    if not page.may_arrange:
        return {"own_share": own, "loads": ()}
    everybody = sorted(
        loads(plan, seasons), key=lambda one: (one.name.casefold(), one.person_id)
    )
    return {
        "own_share": own,
        "loads": [(one.name, load_words(one)) for one in everybody],
    }


def _changes(page: SitePage) -> Changes | None:
    published = last_published(page.site)
    if published is None:
        return None
    at = published.at.astimezone(ZoneInfo(page.site.time_zone))
    # A garden with a day of its own was published on none of its own days.
    is_dated = page.site.own_today is None
    return Changes(
        since=f"{full_day(at.date())}, {at:%H:%M}"
        if is_dated
        else gettext("the last time"),
        lines=tuple(change_words(one) for one in changes_since(published, page.today)),
    )


def _span(request: HttpRequest, page: SitePage) -> Span:
    data = request.POST if request.method == "POST" else request.GET
    first = FromForm(data or None, today=page.today).monday
    return Span(page.site, first, first + SHOWN - DAY, page.person, page.now)


def rota_address(page: SitePage, day: date) -> str:
    """Return where the rota of a day's weeks stands."""
    return f"{reverse('rota', args=[page.site.slug])}?from={day.isoformat()}"


@require_POST
@login_required
def rota_propose(request: HttpRequest, site: str) -> HttpResponse:
    """Propose who holds the open places of the drafts shown."""
    page = let_in(request, site, May.ARRANGE)
    ensure_planned(page.site, page.today)
    span = _span(request, page)
    done = propose(span)
    said = [
        ngettext(
            "{number} place filled.", "{number} places filled.", done.filled
        ).format(number=done.filled)
    ]
    if done.learners:
        said.append(
            ngettext(
                "{number} place for learners.",
                "{number} places for learners.",
                done.learners,
            ).format(number=done.learners)
        )
    if not done.filled and not done.learners:
        said = [gettext("Nothing more can be filled: each open place says why.")]
    said.append(gettext("Nobody is told before you publish."))
    messages.success(request, " ".join(said))
    return redirect(rota_address(page, span.first))


@require_POST
@login_required
def rota_clear(request: HttpRequest, site: str) -> HttpResponse:
    """Open again what the proposal filled; what somebody set by hand stays."""
    page = let_in(request, site, May.ARRANGE)
    span = _span(request, page)
    number = clear_proposal(span)
    messages.success(
        request,
        ngettext("{number} place cleared.", "{number} places cleared.", number).format(
            number=number
        ),
    )
    return redirect(rota_address(page, span.first))


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def rota_publish(request: HttpRequest, site: str) -> HttpResponse:
    """Show what would be told to whom; publish what was looked at."""
    page = let_in(request, site, May.ARRANGE, page="more")
    ensure_planned(page.site, page.today)
    span = _span(request, page)
    if request.method == "POST":
        try:
            publish(span, seal=request.POST.get("seal", ""))
        except ChangedMeanwhileError:
            return _show_publish(request, page, span, is_stale=True)
        except NothingToPublishError:
            messages.info(
                request, gettext("There is nothing to publish in these weeks.")
            )
        else:
            messages.success(
                request, gettext("Published. Everybody on a new shift is told.")
            )
        return redirect(rota_address(page, span.first))
    return _show_publish(request, page, span)


def _show_publish(
    request: HttpRequest, page: SitePage, span: Span, *, is_stale: bool = False
) -> HttpResponse:
    drafts = drafts_of(span)
    places = [place for shift in drafts for place in shift.places.all()]
    context = page.context(
        first=span.first.isoformat(),
        back=rota_address(page, span.first),
        seal=seal_of(drafts),
        number=len(drafts),
        open_number=sum(p.holder_id is None for p in places if not p.is_learner),
        told=told_lines(places, page.person),
        changes=_changes(page),
        is_stale=is_stale,
    )
    status = 409 if is_stale else 200
    return render(request, "care/rota_publish.html", context, status=status)
