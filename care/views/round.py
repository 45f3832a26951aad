"""The round, which is the home page: what to do now, tick it, see what comes."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db.models import Q
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from care.actions.no_water import log_no_water
from care.actions.tasks import complete_tasks, water_all as log_water
from care.forms.watering import WaterAllForm
from care.planning.plan_site import ensure_planned
from care.planning.rains import rains_of
from care.planning.weather_days import read_weather, weather_series
from care.views.days import day_words, full_day
from care.views.rain_words import rains_notice
from care.views.round_sheet import near_tasks, round_sheet
from care.views.task_lines import is_now
from care.views.weather_line import weather_line
from care.views.wording import QUESTIONS, ROW_VERBS, count_trees, reason_of
from orchard.access import May, sites_of
from orchard.actions.places import live_on as let_site_live_on
from orchard.models import Tree
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
    return _show(request, page)


def _show(
    request: HttpRequest, page: SitePage, form: WaterAllForm | None = None
) -> HttpResponse:
    ensure_planned(page.site, page.today)
    context = page.context(
        "round",
        sheet=round_sheet(page),
        day=full_day(page.today),
        weather=weather_line(page.site, page.today, page.units),
        rains=_rains(page),
        form=form or _water_form(page),
        is_form_open=form is not None,
        is_demo=page.site.own_today is not None,
        here=reverse("round", args=[page.site.slug]),
    )
    status = 200 if form is None else 422
    return render(request, "care/round.html", context, status=status)


def _rains(page: SitePage) -> str:
    """Return one line on the rains while their onset or end is news."""
    series = weather_series(read_weather(page.site, page.today), page.today)
    if series is None:
        return ""
    return rains_notice(rains_of(series, page.today), page.today)


def _water_form(page: SitePage, data: object = None) -> WaterAllForm:
    blocks = list(page.site.blocks.all())
    return WaterAllForm(data, blocks=blocks, today=page.today, units=page.units)


@require_POST
@login_required
def block_done(request: HttpRequest, site: str, block: int) -> HttpResponse:
    """Tick every task of one action that is due now in a block."""
    page = let_in(request, site, May.TICK)
    row = get_object_or_404(page.site.blocks, pk=block)
    kind, action = request.POST.get("kind", ""), request.POST.get("action", "")
    if (kind, action) not in ROW_VERBS:
        raise Http404
    ensure_planned(page.site, page.today)
    due = [
        task
        for task in near_tasks(page.site, page.today)
        .filter(tree__block=row, kind=kind, action=action)
        .select_related("site")
        if is_now(task, page.today) and reason_of(task).code not in QUESTIONS
    ]
    entries = complete_tasks(tasks=due, person=page.person, on=page.today, now=page.now)
    verb = ROW_VERBS[kind, action]
    messages.success(request, f"{row.name}: {count_trees(len(entries))} {verb}.")
    return redirect("round", page.site.slug)


@require_POST
@login_required
def water_all(request: HttpRequest, site: str) -> HttpResponse:
    """Log that every tree, or every tree of a block, got about so much."""
    page = let_in(request, site, May.TICK)
    form = _water_form(page, request.POST)
    if not form.is_valid():
        return _show(request, page, form)
    given = form.cleaned_data
    stands = Q(planted_on=None) | Q(planted_on__lte=given["on"])
    trees = page.site.trees.filter(stands, status=Tree.Status.ALIVE)
    if given["block"]:
        trees = trees.filter(block_id=given["block"])
    ensure_planned(page.site, page.today)
    entries = log_water(
        site=page.site,
        trees=list(trees),
        litres=given["litres"],
        person=page.person,
        on=given["on"],
        now=page.now,
        note=given["note"],
    )
    when = day_words(given["on"], page.today)
    messages.success(request, f"Water logged for {count_trees(len(entries))}, {when}.")
    return redirect("round", page.site.slug)


@require_POST
@login_required
def water_none(request: HttpRequest, site: str) -> HttpResponse:
    """Log that nobody watered: the plan may trust its reckoning again."""
    page = let_in(request, site, May.TICK)
    ensure_planned(page.site, page.today)
    asked = {
        task.tree_id: task.tree
        for task in near_tasks(page.site, page.today).filter(kind="watering")
        if reason_of(task).number("unknown_water_days")
    }
    log_no_water(
        site=page.site,
        trees=asked.values(),
        person=page.person,
        on=page.today,
        now=page.now,
    )
    messages.success(request, "Noted: no water since then. The plan reckons with that.")
    return redirect("round", page.site.slug)


@require_POST
@login_required
def live_on(request: HttpRequest, site: str) -> HttpResponse:
    """Let a demonstration site live a day or a week further."""
    page = let_in(request, site, May.TICK)
    days = DAYS_TO_LIVE.get(request.POST.get("days", ""))
    if page.site.own_today is None or days is None:
        raise Http404
    if let_site_live_on(site=page.site, days=days) == page.today:
        messages.info(request, "The weather record of this demonstration ends here.")
    return back_to(request, reverse("round", args=[page.site.slug]))
