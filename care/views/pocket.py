"""One light page of a site that a phone keeps and shows where there is no network."""

from zoneinfo import ZoneInfo

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from care.planning.days_ahead import read_near_days
from care.planning.plan_site import ensure_planned
from care.views.days import full_day
from care.views.people_words import heat_words
from care.views.pocket_sheet import pocket_sheet
from care.views.weather_line import weather_line
from care.views.whose import chosen
from orchard.languages import clock
from orchard.views.site_page import let_in


@require_safe
@login_required
def pocket(request: HttpRequest, site: str) -> HttpResponse:
    """Show today's round, the week, how each work is done and how each tree is."""
    page = let_in(request, site)
    ensure_planned(page.site, page.today)
    near = read_near_days(page.site, page.today)
    context = page.context(
        "round",
        sheet=pocket_sheet(page, chosen(request, page)),
        day=full_day(page.today),
        hour=clock(page.now.astimezone(ZoneInfo(page.site.time_zone))),
        weather=weather_line(page.site, near, page.units),
        heat=heat_words(near, page.units),
        # Fetched behind a person's back: what waits to be told is told on a page.
        messages=(),
    )
    return render(request, "care/pocket.html", context)
