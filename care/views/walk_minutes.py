"""Walks begin, and take their time: said in words, written down, corrected."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext
from django.views.decorators.http import require_POST

from care.actions.walk_minutes import say_walk_minutes
from care.actions.walks import begin_walks
from care.forms.walk_minutes import WalkMinutesForm
from care.planning.plan_site import ensure_planned
from care.views.round import show_round
from care.views.walk_words import minutes_words
from orchard.access import May
from orchard.views.site_page import let_in


@require_POST
@login_required
def round_begin(request: HttpRequest, site: str) -> HttpResponse:
    """Begin today's walk: from now on its order stays."""
    page = let_in(request, site, May.TICK)
    ensure_planned(page.site, page.today)
    if begin_walks(site=page.site, today=page.today, now=page.now):
        messages.success(
            request, gettext("The walk has begun. Its order stays as it is now.")
        )
    else:
        messages.info(
            request, gettext("The walk has begun already, or nothing is left of it.")
        )
    return redirect("round", page.site.slug)


@require_POST
@login_required
def walk_minutes(request: HttpRequest, site: str) -> HttpResponse:
    """Write how long today's walk took; nothing typed takes it back."""
    page = let_in(request, site, May.TICK)
    form = WalkMinutesForm(request.POST)
    if not form.is_valid():
        return show_round(request, page, walk=form)
    minutes = form.cleaned_data["minutes"]
    say_walk_minutes(
        site=page.site,
        person=page.person,
        on=page.today,
        now=page.now,
        minutes=minutes,
    )
    said = (
        gettext("Noted: {minutes}.").format(minutes=minutes_words(minutes))
        if minutes
        else gettext("No time is noted.")
    )
    messages.success(request, said)
    return redirect("round", page.site.slug)
