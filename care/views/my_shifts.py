"""My shifts: what I hold, what I am asked, what I could take; and everybody's hours."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import timedelta

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from care.models import Shift, ShiftPlace
from care.planning.place_facts import HELD, UNCONFIRMED_FOR, ShiftFacts, read_facts
from care.planning.plan_site import ensure_planned
from care.planning.shift_shares import HelperSeason, helper_seasons
from care.views.place_lines import PlaceLine, Seen, may_take, place_line, seen_by
from care.views.place_words import count_words, share_words
from care.views.shift_words import length_words
from orchard.access import May
from orchard.models import Offered
from orchard.views.site_page import SitePage, let_in

#: As far as people plan their lives; common practice, no source.
AHEAD = timedelta(weeks=8)

#: Whether a place belongs to one of the page's lists.
Belongs = Callable[[Seen, ShiftFacts, ShiftPlace], bool]


@dataclass(frozen=True, slots=True)
class HoursLine:
    """One helper's season, for those who arrange the shifts."""

    name: str
    shifts: str
    fair: str
    hours: str
    note: str


@require_safe
@login_required
def my_shifts(request: HttpRequest, site: str) -> HttpResponse:
    """Show one's own shifts, and the places one could take."""
    page = let_in(request, site)
    ensure_planned(page.site, page.today)
    facts = list(_near(page).values())
    seen = seen_by(page, facts)
    season = helper_seasons(page.site, page.today).get(page.person.pk)
    context = page.context(
        "more",
        mine=_lines(seen, facts, _is_mine),
        asked=_lines(seen, facts, _is_asked),
        free=_free_lines(seen, facts),
        past=_lines(seen, facts, _is_past),
        share=_share(season),
        hours=length_words(season.minutes) if season and season.minutes else "",
        unconfirmed=season.unconfirmed if season else 0,
        has_shifts=bool(facts) or _had_any(page),
        offers_days=Offered.objects.filter(membership=page.membership).exists(),
    )
    return render(request, "care/my_shifts.html", context)


def _near(page: SitePage) -> dict[int, ShiftFacts]:
    """Return the published shifts of the last week and the next eight, in time."""
    shifts = Shift.objects.filter(
        site=page.site,
        status=Shift.Status.PUBLISHED,
        day__range=(page.today - UNCONFIRMED_FOR, page.today + AHEAD),
    )
    rows = list(shifts.order_by("day", "starts_at", "id"))
    return read_facts(page.site, rows, page.today)


def _had_any(page: SitePage) -> bool:
    published = Shift.objects.filter(site=page.site, published_at__isnull=False)
    return published.exists()


def _lines(
    seen: Seen, facts: Iterable[ShiftFacts], belongs: Belongs
) -> tuple[PlaceLine, ...]:
    return tuple(
        place_line(seen, one, place)
        for one in facts
        for place in one.places
        if belongs(seen, one, place)
    )


def _free_lines(seen: Seen, facts: Iterable[ShiftFacts]) -> tuple[PlaceLine, ...]:
    """Return what one could take, alike places of a shift once: cover goes first."""
    lines = []
    for one in facts:
        places = [place for place in one.places if _is_free(seen, one, place)]
        places.sort(key=lambda place: place.state != place.State.OFFERED)
        alike: dict[tuple[str, bool], ShiftPlace] = {}
        for place in places:
            alike.setdefault((place.skill, place.is_learner), place)
        lines += [place_line(seen, one, place) for place in alike.values()]
    return tuple(lines)


def _is_mine(seen: Seen, facts: ShiftFacts, place: ShiftPlace) -> bool:
    is_held = place.state in HELD and facts.holder(place) == seen.person_id
    return is_held and not seen.is_over(facts)


def _is_asked(seen: Seen, facts: ShiftFacts, place: ShiftPlace) -> bool:
    is_asked = place.state == place.State.OFFERED
    is_me = place.offered_to_id == seen.person_id
    return is_asked and is_me and not seen.has_begun(facts)


def _is_free(seen: Seen, facts: ShiftFacts, place: ShiftPlace) -> bool:
    if place.offered_to_id == seen.person_id:
        return False
    return may_take(seen, facts, place)


def _is_past(seen: Seen, facts: ShiftFacts, place: ShiftPlace) -> bool:
    is_open = place.state in (*HELD, place.State.MISSED)
    is_mine = place.holder_id == seen.person_id and not place.on_hold
    return is_open and is_mine and seen.is_over(facts)


def _share(season: HelperSeason | None) -> str:
    if season is None:
        return ""
    return share_words(season.shifts, season.fair)


@require_safe
@login_required
def hours(request: HttpRequest, site: str) -> HttpResponse:
    """Show everybody's shifts and hours of the season, by name; no ranking."""
    page = let_in(request, site, May.ARRANGE)
    seasons = helper_seasons(page.site, page.today).values()
    by_name = sorted(
        seasons, key=lambda one: (one.member.name.casefold(), one.member.person_id)
    )
    context = page.context("more", lines=[_hours_line(one) for one in by_name])
    return render(request, "care/hours.html", context)


def _hours_line(season: HelperSeason) -> HoursLine:
    notes = []
    if season.unconfirmed:
        notes.append(
            gettext("{number} not confirmed").format(number=season.unconfirmed)
        )
    if season.missed:
        notes.append(gettext("{number} missed").format(number=season.missed))
    if season.asks_for_talk:
        notes.append(gettext("perhaps ask how they are"))
    if season.member.is_learner or season.member.is_under_18:
        notes.append(gettext("comes along to learn"))
    return HoursLine(
        name=season.member.name,
        shifts=count_words(season.shifts),
        fair=""
        if season.fair is None
        else gettext("about {number}").format(number=round(season.fair)),
        hours=length_words(season.minutes),
        note=", ".join(notes),
    )
