"""Making shifts: of a round, free, or repeating; and ending those that repeat."""

import uuid
from datetime import date, timedelta
from math import ceil
from typing import TypedDict

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.text import capfirst
from django.utils.translation import gettext, ngettext
from django.views.decorators.http import require_http_methods

from care.actions.shift_series import end_series, make_series
from care.actions.shifts import make_shift
from care.forms.shift_series import EndForm, SeriesForm
from care.forms.shifts import MOST_MINUTES, MOST_PEOPLE, ShiftForm
from care.models import Round, Shift, ShiftSeries
from care.planning.plan_site import ensure_planned
from care.planning.shift_work import work_of
from care.views.log_lines import log_kinds
from care.views.shifts import fill
from orchard.access import May
from orchard.languages import weekday
from orchard.models import Block, Site
from orchard.sources.official_warnings import site_moment
from orchard.views.site_page import SitePage, let_in

#: What is logged and never asked for.
NOT_WORK = frozenset(
    {
        *("move", "spray", "manure", "soil_feel"),
        *("note", "photo", "grafting", "walk_minutes"),
    }
)
USUAL_MINUTES, USUAL_START = 180, "09:00"
LEAST_MINUTES, QUARTER = 30, 15


def _work() -> dict[str, str]:
    """Return the work that the plan asks for; what shifts are made of most is first."""
    return {kind: words for kind, words in log_kinds() if kind not in NOT_WORK}


class FormFacts(TypedDict):
    """What the forms of shifts offer to choose from."""

    site: Site
    blocks: list[Block]
    kinds: dict[str, str]


@login_required
@require_http_methods(["GET", "POST"])
def shift_add(request: HttpRequest, site: str) -> HttpResponse:
    """Make a shift: of a round, of a day and block, or free."""
    page = let_in(request, site, May.ARRANGE, page="more")
    form = ShiftForm(
        request.POST if request.method == "POST" else None,
        **form_facts(page),
        moment=site_moment(page.site, page.now),
        others=shifts_ahead(page),
        initial=_initial(request, page),
    )
    if form.is_bound and form.is_valid():
        made = make_shift(
            site=page.site,
            values=form.values(),
            skills=form.skills(),
            person=page.person,
            now=page.now,
        )
        messages.success(
            request,
            gettext(
                "{name} is made, and nobody sees it before it is published."
            ).format(name=made.name),
        )
        return redirect("shift", page.site.slug, made.uid)
    status = 422 if form.is_bound else 200
    context = page.context(form=form, is_new=True)
    return render(request, "care/shift_form.html", context, status=status)


def form_facts(page: SitePage) -> FormFacts:
    """Return what the forms of shifts offer to choose from."""
    return {
        "site": page.site,
        "blocks": list(page.site.blocks.all()),
        "kinds": _work(),
    }


def shifts_ahead(page: SitePage) -> list[Shift]:
    """Return the shifts that take place from yesterday's night on."""
    rows = Shift.objects.filter(site=page.site, day__gte=page.today - timedelta(days=1))
    return list(rows.exclude(status=Shift.Status.CANCELLED))


def _initial(request: HttpRequest, page: SitePage) -> dict[str, object]:
    """Return what the boxes show at first: of the round or day that was asked for."""
    day, block = _asked(request, page)
    initial: dict[str, object] = {
        "name": capfirst(weekday(day)),
        "day": day,
        "starts_at": USUAL_START,
        "minutes": USUAL_MINUTES,
        "people": 2,
        "block": str(block or ""),
    }
    if not request.GET:
        return initial
    ensure_planned(page.site, page.today)
    asked = Shift(pk=0, site=page.site, day=day, block_id=block, kinds=[])
    work = work_of([asked], page.today)[0]
    if work.tasks:
        people = max(1, ceil(work.minutes / USUAL_MINUTES))
        people = max(people, 2) if work.hazards else people
        each = ceil(work.minutes / people / QUARTER) * QUARTER
        initial["people"] = min(people, MOST_PEOPLE)
        initial["minutes"] = min(max(each, LEAST_MINUTES), MOST_MINUTES)
        # The boxes are called as the hazards are.
        initial |= {hazard.value: 1 for hazard in work.hazards}
    return initial


def _asked(request: HttpRequest, page: SitePage) -> tuple[date, int | None]:
    """Return the day and block in the address; else the next Saturday everywhere."""
    saturday = page.today + timedelta(days=(5 - page.today.weekday()) % 7 or 7)
    found = None
    if text := request.GET.get("round"):
        found = _round(page, text)
    if found is not None:
        return max(found.day, page.today), found.block_id
    try:
        day = date.fromisoformat(request.GET.get("day", ""))
    except ValueError:
        day = saturday
    named = request.GET.get("block", "")
    block = page.site.blocks.filter(pk=named).first() if named.isdecimal() else None
    return max(day, page.today), block.pk if block else None


def _round(page: SitePage, text: str) -> Round | None:
    try:
        uid = uuid.UUID(text)
    except ValueError:
        return None
    return Round.objects.filter(site=page.site, uid=uid).first()


@login_required
@require_http_methods(["GET", "POST"])
def series_add(request: HttpRequest, site: str) -> HttpResponse:
    """Make shifts that repeat; the first weeks of them at once."""
    page = let_in(request, site, May.ARRANGE, page="more")
    form = SeriesForm(
        request.POST if request.method == "POST" else None,
        **form_facts(page),
        today=page.today,
        initial={
            "name": gettext("Watering"),
            "kinds": ["watering"],
            "starts_at": USUAL_START,
            "minutes": 90,
            "people": 2,
            "from_on": page.today,
            "silent_when_wet": True,
        },
    )
    if form.is_bound and form.is_valid():
        series = make_series(
            site=page.site, values=form.values(), person=page.person, now=page.now
        )
        ensure_planned(page.site, page.today)
        fill(page)
        messages.success(request, _made_words(series))
        return redirect("shifts", page.site.slug)
    status = 422 if form.is_bound else 200
    context = page.context(form=form)
    return render(request, "care/series_form.html", context, status=status)


def _made_words(series: ShiftSeries) -> str:
    number = series.shifts.count()
    if number == 0:
        return gettext(
            "{name} is made. Nothing of its work is due in the coming four "
            "weeks, so it has no shift yet: they come when the plan asks for "
            "the work."
        ).format(name=series.name)
    return ngettext(
        "{name} is made, with {number} shift in the coming four weeks.",
        "{name} is made, with {number} shifts in the coming four weeks.",
        number,
    ).format(name=series.name, number=number)


@login_required
@require_http_methods(["GET", "POST"])
def series_end(request: HttpRequest, site: str, series: int) -> HttpResponse:
    """Let a series make no more shifts, after saying what becomes of those made."""
    page = let_in(request, site, May.ARRANGE, page="more")
    row = get_object_or_404(ShiftSeries, site=page.site, pk=series)
    form = EndForm(request.POST if request.method == "POST" else None)
    if form.is_bound and form.is_valid():
        stay = end_series(
            series=row,
            is_all_off=form.cleaned_data["is_all_off"],
            person=page.person,
            today=page.today,
            now=page.now,
        )
        said = gettext("{name} makes no more shifts.").format(name=row.name)
        if stay:
            kept = ngettext(
                "{number} published ones stay.", "{number} published ones stay.", stay
            )
            said = f"{said} {kept.format(number=stay)}"
        messages.success(request, said)
        return redirect("shifts", page.site.slug)
    ahead = row.shifts.filter(day__gte=page.today, status=Shift.Status.PUBLISHED)
    context = page.context(form=form, series=row, published=ahead.count())
    return render(request, "care/series_end.html", context)
