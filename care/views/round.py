"""The round, which is the home page: what to do now, tick it, see what comes."""

from collections.abc import Sequence

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_POST, require_safe

from care.actions.tasks import complete_tasks
from care.forms.all_done import AllDoneForm
from care.forms.unlogged_water import UnloggedForm
from care.forms.walk_minutes import WalkMinutesForm
from care.forms.watering import WaterAllForm
from care.models import Task
from care.planning.days_ahead import read_near_days
from care.planning.plan_site import ensure_planned
from care.planning.weather_days import read_weather, weather_series
from care.views.days import full_day
from care.views.many_ticks import TICKED, may_tick_unseen, ticked, to_round
from care.views.people_words import heat_words
from care.views.rain_notice import rain_notice
from care.views.round_sheet import near_tasks, round_sheet
from care.views.said_water import said_water
from care.views.same_job import left_words
from care.views.unlogged_water import unlogged_form
from care.views.warning_words import Quoted, quoted_all
from care.views.weather_line import weather_line
from care.views.whose import Whose, chosen
from care.views.wording import ROW_VERBS, count_trees
from orchard.access import May, sites_of
from orchard.actions.places import live_on as let_site_live_on
from orchard.sources.official_warnings import site_moment, warnings_at
from orchard.views.site_page import SitePage, back_to, let_in

LAST_SITE = "last_site"
DAYS_TO_LIVE = {"1": 1, "7": 7}


@require_safe
@login_required
def home(request: HttpRequest) -> HttpResponse:
    """Go to the round of the site last looked at, or to the first steps."""
    sites = {site.slug: site for site in sites_of(request.user)}
    slug = request.session.get(LAST_SITE)
    if slug not in sites:
        slug = next(iter(sites), None)
    return redirect("round", slug) if slug else redirect("start")


@require_safe
@login_required
def round_page(request: HttpRequest, site: str) -> HttpResponse:
    """Show what to do now by block, what comes, and what was done today."""
    page = let_in(request, site)
    if request.session.get(LAST_SITE) != page.site.slug:
        request.session[LAST_SITE] = page.site.slug
    return show_round(request, page)


def show_round(
    request: HttpRequest,
    page: SitePage,
    *,
    refused: QueryDict | None = None,
    unlogged: UnloggedForm | None = None,
    walk: WalkMinutesForm | None = None,
    all_done: AllDoneForm | None = None,
) -> HttpResponse:
    """Show the round; what was refused of its forms keeps its words.

    ``refused`` was said of all trees, ``unlogged`` answers for a quiet week, ``walk``
    tells how long the walk took, ``all_done`` on which day all was done.
    """
    ensure_planned(page.site, page.today)
    sheet = round_sheet(page, chosen(request, page), _first_line(request))
    near = read_near_days(page.site, page.today)
    context = page.context(
        "round",
        sheet=sheet,
        day=full_day(page.today),
        weather=weather_line(page.site, near, page.units),
        heat=heat_words(near, page.units),
        warnings=_warnings(page),
        rains=_rains(page),
        form=water_form(page, sheet.water_places, refused),
        is_form_open=refused is not None,
        unlogged=unlogged or unlogged_form(page, sheet.asked),
        walk_form=walk
        or WalkMinutesForm(minutes=sheet.walk.said_minutes, began=sheet.walk.began),
        all_done_form=all_done or AllDoneForm(today=page.today),
        said=said_water(page, request.GET.get("said", "")),
        ticked=ticked(page, request.GET.get(TICKED, "")),
        is_demo=page.site.own_today is not None,
        here=reverse("round", args=[page.site.slug]),
    )
    is_refused = any(one is not None for one in (refused, unlogged, walk, all_done))
    status = 422 if is_refused else 200
    return render(request, "care/round.html", context, status=status)


def _first_line(request: HttpRequest) -> int:
    """Return from which line on the address asks for, counted from 0."""
    asked = request.GET.get("from", "")
    return int(asked) if asked.isascii() and asked.isdigit() and len(asked) < 7 else 0  # noqa: PLR2004 (no site has a million tasks)


def _rains(page: SitePage) -> str:
    """Return one line on the rains while they change what there is to water."""
    series = weather_series(read_weather(page.site, page.today), page.today)
    return rain_notice(page.site, series, page.today)


def _warnings(page: SitePage) -> tuple[Quoted, ...]:
    moment = site_moment(page.site, page.now)
    return quoted_all(warnings_at(page.site, moment), page.site, moment)


def water_form(
    page: SitePage, places: Sequence[tuple[str, str]], data: QueryDict | None = None
) -> WaterAllForm:
    """Return the form that says all trees of a place were watered."""
    return WaterAllForm(data, places=places, today=page.today, units=page.units)


def shown_tasks(request: HttpRequest, page: SitePage) -> tuple[list[Task], Whose]:
    """Return the open tasks the form's page showed, and whose it showed."""
    ensure_planned(page.site, page.today)
    tasks = list(near_tasks(page.site, page.today).select_related("site"))
    whose = chosen(request, page).over(tasks, page.today)
    return [task for task in tasks if whose.shows(task)], whose


@require_POST
@login_required
def block_done(request: HttpRequest, site: str, block: int) -> HttpResponse:
    """Tick every task of one action that the round shows as due now in a block."""
    page = let_in(request, site, May.TICK)
    row = get_object_or_404(page.site.blocks, pk=block)
    kind, action = request.POST.get("kind", ""), request.POST.get("action", "")
    if (kind, action) not in ROW_VERBS:
        raise Http404
    wanted = (row.pk, kind, action, "urgent" in request.POST)
    due = [
        task
        for task in shown_tasks(request, page)[0]
        if (task.tree.block_id, task.kind, task.action, task.is_urgent) == wanted
        and may_tick_unseen(task, page.today)
    ]
    entries = complete_tasks(tasks=due, person=page.person, on=page.today, now=page.now)
    said = gettext("{block}: {trees} {done}.").format(
        block=row.name,
        trees=count_trees(len(entries)),
        done=ROW_VERBS[kind, action],
    )
    messages.success(request, said + left_words(due))
    return to_round(page, entries)


@require_POST
@login_required
def live_on(request: HttpRequest, site: str) -> HttpResponse:
    """Let a demonstration site live a day or a week further."""
    page = let_in(request, site, May.TICK)
    days = DAYS_TO_LIVE.get(request.POST.get("days", ""))
    if page.site.own_today is None or days is None:
        raise Http404
    reached = let_site_live_on(site=page.site, days=days, person=page.person)
    if reached == page.today:
        messages.info(
            request, gettext("The weather record of this demonstration ends here.")
        )
    return back_to(request, reverse("round", args=[page.site.slug]))
