"""The shifts of a place: the coming four weeks, made one by one or repeating."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from care.actions.shift_series import (
    FILLED_DAYS,
    fill_series,
)
from care.forms.shift_series import WEEKDAYS
from care.models import Shift, ShiftSeries
from care.planning.plan_site import ensure_planned
from care.planning.shift_work import NO_WORK, ShiftWork, work_of
from care.views.days import full_day, short_day
from care.views.shift_words import (
    hours_words,
    length_words,
    open_words,
    people_words,
    state_words,
    work_words,
)
from orchard.languages import clock
from orchard.models import Site
from orchard.sources.official_warnings import site_moment
from orchard.views.site_page import SitePage, let_in

WEEK = timedelta(days=7)
SHOWN = timedelta(days=FILLED_DAYS)


@dataclass(frozen=True, slots=True)
class ShiftLine:
    """One shift as it stands in the list."""

    shift: Shift
    day: str
    hours: str
    people: str
    free: str
    work: str
    state: str
    is_off: bool


@dataclass(frozen=True, slots=True)
class Week:
    """The shifts of one week."""

    title: str
    lines: tuple[ShiftLine, ...]


def seen_shifts(page: SitePage) -> list[Shift]:
    """Return the shifts a member may see, soonest first; drafts are for who arranges."""
    rows = Shift.objects.filter(
        site=page.site, day__gte=page.today, day__lte=page.today + SHOWN
    )
    if not page.may_arrange:
        rows = rows.exclude(status=Shift.Status.DRAFT).exclude(published_at=None)
    return list(rows.select_related("block").prefetch_related("places"))


@require_safe
@login_required
def shifts(request: HttpRequest, site: str) -> HttpResponse:
    """Show the shifts of the coming four weeks, week by week."""
    page = let_in(request, site, page="more")
    ensure_planned(page.site, page.today)
    fill(page)
    rows = seen_shifts(page)
    series = list(
        ShiftSeries.objects.filter(site=page.site, is_ended=False).order_by("pk")
    )
    context = page.context(
        weeks=_weeks(rows, page, work_of(rows, page.today)),
        series=[
            (one, _series_words(one, page.today))
            for one in series
            if one.until_on >= page.today
        ],
    )
    return render(request, "care/shifts.html", context)


def fill(page: SitePage) -> None:
    """Have the place's series make what is theirs in the coming weeks."""
    fill_series(
        site=page.site, today=page.today, until=page.today + SHOWN, now=page.now
    )


def _weeks(
    rows: Iterable[Shift], page: SitePage, work: Mapping[int, ShiftWork]
) -> tuple[Week, ...]:
    this_week = page.today - timedelta(days=page.today.weekday())
    moment = site_moment(page.site, page.now)
    weeks: dict[date, list[ShiftLine]] = {}
    for shift in rows:
        monday = shift.day - timedelta(days=shift.day.weekday())
        line = shift_line(shift, page.site, moment, work.get(shift.pk, NO_WORK))
        weeks.setdefault(monday, []).append(line)
    titles = {this_week: gettext("This week"), this_week + WEEK: gettext("Next week")}
    return tuple(
        Week(
            titles.get(
                monday,
                gettext("Week of {day}").format(day=short_day(monday, page.today)),
            ),
            tuple(lines),
        )
        for monday, lines in sorted(weeks.items())
    )


def shift_line(
    shift: Shift, site: Site, moment: datetime, work: ShiftWork
) -> ShiftLine:
    """Return one shift as a line; its places and block must be at hand."""
    places = list(shift.places.all())
    needed = sum(not place.is_learner for place in places)
    is_off = shift.status == Shift.Status.CANCELLED
    return ShiftLine(
        shift=shift,
        day=full_day(shift.day),
        hours=hours_words(shift, site),
        people=people_words(places),
        free="" if is_off else open_words(places),
        work=work_words(shift, work, needed, moment.date()),
        state=state_words(shift, moment, site),
        is_off=is_off,
    )


def _series_words(series: ShiftSeries, today: date) -> str:
    """Return such as "Saturday and Sunday, 8:00, 1 h 30 min, until 30 September"."""
    names = [str(name) for number, name in WEEKDAYS if number in series.weekdays]
    at = clock(series.starts_at)
    until = short_day(series.until_on, today)
    words = gettext("{weekdays}, {at}, {length}, until {until}").format(
        weekdays=", ".join(names),
        at=at,
        length=length_words(series.minutes),
        until=until,
    )
    return (
        gettext("{words}, only while the work is due").format(words=words)
        if series.silent_when_wet
        else words
    )
