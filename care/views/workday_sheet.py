"""Sheets of walks, for phone and paper alike: of a shift, of a plain round."""

from dataclasses import dataclass
from datetime import timedelta
from uuid import UUID

from django.conf import settings
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from care.actions.helper_links import rounds_to_link
from care.models import Round, Shift, Task
from care.planning.held_fruit import held_trees
from care.planning.plan_site import ensure_planned
from care.planning.shift_weather import calls_of
from care.planning.shift_work import work_of
from care.planning.walk_order import corners_for, in_walking_order
from care.views.days import full_day, short_day
from care.views.helper_sheet import round_words
from care.views.round_sheet import open_tasks
from care.views.shift_page import find_shift
from care.views.shift_words import call_words, hours_words, length_words, state_words
from care.views.walk_sheet import people_lines, square_of, walk_sheet
from orchard.sources.official_warnings import site_moment
from orchard.views.site_page import SitePage, let_in
from orchard.views.ways_in_words import EMERGENCY_FIRST, way_in_of

PAGE = "round"
TEMPLATE = "care/workday_sheet.html"
#: So far ahead the list of sheets goes.
AHEAD = timedelta(days=13)


@dataclass(frozen=True, slots=True)
class SheetLink:
    """One sheet to open."""

    address: str
    words: str


@require_safe
@login_required
def workday_sheet(request: HttpRequest, site: str, shift: UUID) -> HttpResponse:
    """Show a shift on one sheet."""
    page = let_in(request, site)
    ensure_planned(page.site, page.today)
    row = find_shift(page, shift)
    work = work_of([row], page.today)
    mine = work[row.pk]
    calls = calls_of(page.site, [row], work, page.now).get(row.pk, ())
    address = reverse("shift", args=[page.site.slug, row.uid])
    context = _context(
        page,
        heading=row.name,
        day=full_day(row.day),
        hours=hours_words(row, page.site),
        place=row.block.name if row.block else page.site.name,
        state=state_words(row, site_moment(page.site, page.now), page.site),
        people=people_lines(row.places.select_related("holder")),
        said=row.note,
        dangers=[call_words(call, page.units) for call in calls],
        sheet=walk_sheet(
            mine.tasks,
            mine.held,
            row.day,
            page.units,
            is_hazardous=row.is_hazardous or bool(mine.hazards),
        ),
        address=address,
    )
    return render(request, TEMPLATE, context)


@require_safe
@login_required
def round_sheet(request: HttpRequest, site: str, round: UUID) -> HttpResponse:  # noqa: A002 (as the address names it)
    """Show a round on one sheet."""
    page = let_in(request, site)
    ensure_planned(page.site, page.today)
    rounds = Round.objects.filter(site=page.site, is_withdrawn=False)
    row = get_object_or_404(rounds.select_related("block"), uid=round)
    found: list[Task] = list(open_tasks(page.site).filter(round=row, is_firm=True))
    place = row.block.name if row.block else page.site.name
    context = _context(
        page,
        heading=gettext("Round: {place}").format(place=place),
        day=full_day(row.day),
        place=place,
        sheet=walk_sheet(
            in_walking_order(found, corners_for(page.site, found)),
            held_trees(page.site, row.day, row.block),
            row.day,
            page.units,
        ),
        address=reverse("round", args=[page.site.slug]),
    )
    return render(request, TEMPLATE, context)


def _context(page: SitePage, *, address: str, **more: object) -> dict[str, object]:
    sheet = more["sheet"]
    minutes: int = getattr(sheet, "minutes")  # noqa: B009 (one of walk_sheet)
    return page.context(
        PAGE,
        way_in=way_in_of(page.site, with_key=page.may_tick),
        emergency_first=EMERGENCY_FIRST,
        length=length_words(minutes) if minutes else "",
        printed_on=short_day(page.today, page.today),
        back=address,
        square=square_of(settings.BASE_URL + address),
        **more,
    )


@require_safe
@login_required
def walk_sheets(request: HttpRequest, site: str) -> HttpResponse:
    """List the sheets of the shifts and rounds of the next two weeks."""
    page = let_in(request, site)
    ensure_planned(page.site, page.today)
    shifts = Shift.objects.filter(
        site=page.site,
        status=Shift.Status.PUBLISHED,
        day__range=(page.today, page.today + AHEAD),
    )
    context = page.context(
        PAGE,
        shifts=[
            SheetLink(
                reverse("workday_sheet", args=[page.site.slug, shift.uid]),
                f"{shift.name}, {full_day(shift.day)}, {hours_words(shift, page.site)}",
            )
            for shift in shifts
        ],
        rounds=[
            SheetLink(
                reverse("round_sheet", args=[page.site.slug, one.uid]),
                round_words(one, page.site, page.today),
            )
            for one in rounds_to_link(page.site, page.today)
        ],
    )
    return render(request, "care/walk_sheets.html", context)
