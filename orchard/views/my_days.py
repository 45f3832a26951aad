"""My days: on which days a member can come, and how often is enough."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.forms import Form
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_http_methods

from orchard.access import May
from orchard.actions.helping import helping_of
from orchard.actions.offers import (
    limit_help,
    offer_days,
    offer_weekdays,
    say_away,
    take_back_away,
)
from orchard.forms.offers import (
    AwayForm,
    BackForm,
    DaysForm,
    LimitsForm,
    WeekdaysForm,
)
from orchard.models import Helping, Offered
from orchard.views.helping_words import Away, away_spans
from orchard.views.site_page import SitePage, let_in

SAME = gettext_noop("That is what was written already.")


@dataclass(frozen=True, slots=True)
class Said:
    """What the member said so far, and the page's forms."""

    rows: Sequence[Offered]
    helping: Helping
    weekdays: WeekdaysForm
    days: DaysForm
    away: AwayForm
    limits: LimitsForm


def _said(page: SitePage, part: str = "", data: QueryDict | None = None) -> Said:
    """Return the page's forms; the one called ``part`` holds what was sent."""
    member = page.membership
    rows = list(member.offered.all())
    helping = helping_of(member)
    limits = {
        "most_a_week": helping.most_a_week,
        "most_a_season": helping.most_a_season,
    }

    def sent(name: str) -> QueryDict | None:
        return data if part == name else None

    return Said(
        rows,
        helping,
        WeekdaysForm(sent("weekdays"), rows=rows),
        DaysForm(sent("days"), today=page.today, rows=rows),
        AwayForm(sent("away"), today=page.today),
        LimitsForm(sent("limits"), initial=limits),
    )


@require_http_methods(["GET", "POST"])
@login_required
def my_days(request: HttpRequest, site: str) -> HttpResponse:
    """Show and change on which days one can come."""
    page = let_in(request, site, May.TICK, page="more")
    if request.method != "POST":
        return _show(request, page, _said(page))
    part = request.POST.get("part", "")
    keep = KEEPERS.get(part)
    if keep is None:
        messages.error(request, gettext("Nothing was changed. Choose what to save."))
        return redirect("my_days", page.site.slug)
    said = _said(page, part, request.POST)
    words = keep(request, page, said)
    if words is None:
        return _show(request, page, said, status=422)
    messages.success(request, words)
    anchor = "away" if part == "back" else part
    return redirect(f"{reverse('my_days', args=[page.site.slug])}#{anchor}")


def _keep_weekdays(_: HttpRequest, page: SitePage, said: Said) -> str | None:
    form = said.weekdays
    if not form.is_valid():
        return None
    is_news = offer_weekdays(
        membership=page.membership, wishes=form.wishes(), now=page.now
    )
    return gettext("Your weekdays are kept.") if is_news else gettext(SAME)


def _forget_weekdays(_: HttpRequest, page: SitePage, __: Said) -> str | None:
    is_news = offer_weekdays(membership=page.membership, wishes={}, now=page.now)
    return gettext("Your weekdays are forgotten.") if is_news else gettext(SAME)


def _keep_days(_: HttpRequest, page: SitePage, said: Said) -> str | None:
    form = said.days
    if not form.is_valid():
        return None
    wishes, unsaid = form.wishes()
    is_news = offer_days(
        membership=page.membership, wishes=wishes, unsaid=unsaid, now=page.now
    )
    return gettext("Your days are kept.") if is_news else gettext(SAME)


def _keep_away(_: HttpRequest, page: SitePage, said: Said) -> str | None:
    form = said.away
    if not form.is_valid():
        return None
    first, last = form.cleaned_data["first"], form.cleaned_data["last"]
    is_news = say_away(membership=page.membership, first=first, last=last, now=page.now)
    return (
        gettext("You are away {days}.").format(days=Away(first, last).words)
        if is_news
        else gettext(SAME)
    )


def _take_back(request: HttpRequest, page: SitePage, _: Said) -> str | None:
    """Take back the span that was named, as far as it is still to come."""
    form = BackForm(request.POST, today=page.today)
    if not form.is_valid():
        return gettext("Those days are over or gone already. Nothing was changed.")
    first, last = form.cleaned_data["first"], form.cleaned_data["last"]
    is_news = take_back_away(
        membership=page.membership, first=first, last=last, now=page.now
    )
    return (
        gettext("You are here {days}.").format(days=Away(first, last).words)
        if is_news
        else gettext(SAME)
    )


def _keep_limits(_: HttpRequest, page: SitePage, said: Said) -> str | None:
    form = said.limits
    if not form.is_valid():
        return None
    is_news = limit_help(membership=page.membership, now=page.now, **form.cleaned_data)
    return gettext("How much is enough is kept.") if is_news else gettext(SAME)


Keeper = Callable[[HttpRequest, SitePage, Said], str | None]
KEEPERS: dict[str, Keeper] = {
    "weekdays": _keep_weekdays,
    "forget": _forget_weekdays,
    "days": _keep_days,
    "away": _keep_away,
    "back": _take_back,
    "limits": _keep_limits,
}


def _show(
    request: HttpRequest, page: SitePage, said: Said, status: int = 200
) -> HttpResponse:
    bound: Sequence[Form] = [
        form
        for form in (said.weekdays, said.days, said.away, said.limits)
        if form.is_bound
    ]
    context = page.context(
        said=said,
        has_weekdays=any(row.weekday is not None for row in said.rows),
        is_first_use=not said.rows,
        weeks=_weeks(said.days),
        away=away_spans(said.rows, page.today),
        form=bound[0] if bound else None,
    )
    return render(request, "orchard/my_days.html", context, status=status)


@dataclass(frozen=True, slots=True)
class Week:
    """Days of one week ahead, with what makes a reader open it."""

    title: str
    fields: Sequence[object]
    is_open: bool


def _weeks(form: DaysForm) -> list[Week]:
    weeks = []
    for number, fields in enumerate(form.weeks()):
        days = [date.fromisoformat(field.name) for field, _ in fields]
        has_more = any(day in form.said for day in days)
        has_errors = any(field.errors for field, _ in fields)
        weeks.append(
            Week(
                Away(days[0], days[-1]).words,
                fields,
                is_open=number == 0 or has_more or has_errors,
            )
        )
    return weeks
