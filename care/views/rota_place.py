"""One place of the rota: why it is open, who may hold it, and putting somebody there."""

from collections.abc import Iterable

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_http_methods

from care.actions.place_changes import PlaceError
from care.actions.rota_places import put_on_place
from care.forms.rota import NOBODY, PlaceForm
from care.models import Shift, ShiftPlace
from care.planning.place_facts import ShiftFacts, read_facts
from care.planning.place_rules import Against
from care.planning.plan_site import ensure_planned
from care.planning.rota_facts import read_rota
from care.planning.rota_plan import standing
from care.views.days import full_day
from care.views.place_words import stop_words
from care.views.rota import rota_address
from care.views.rota_words import against_words, candidate_words, why_words
from care.views.shift_words import hours_words
from orchard.access import May
from orchard.models import skill_words
from orchard.views.site_page import SitePage, let_in

SAID_NO = gettext_noop("said no to this shift")
CANNOT = gettext_noop("said they cannot come that day")


@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def rota_assign(request: HttpRequest, site: str, place: int) -> HttpResponse:
    """Show who may hold a place and why it is open; put somebody on it, or nobody."""
    page = let_in(request, site, May.ARRANGE, page="more")
    rows = ShiftPlace.objects.select_related("shift").exclude(
        shift__status=Shift.Status.CANCELLED
    )
    row = get_object_or_404(rows, pk=place, shift__site=page.site)
    ensure_planned(page.site, page.today)
    facts = read_facts(page.site, [row.shift], page.today)[row.shift_id]
    form = _form(request, row, facts)
    if form.is_bound and form.is_valid():
        try:
            put_on_place(
                place=row,
                person_id=form.person_id,
                by=page.membership,
                now=page.now,
            )
        except PlaceError as error:
            form.add_error("person", stop_words(error.codes))
        else:
            messages.success(request, _said(row, facts, form.person_id))
            return redirect(rota_address(page, row.shift.day))
    context = page.context(form=form) | _about(page, row, facts)
    status = 422 if form.errors else 200
    return render(request, "care/rota_place.html", context, status=status)


def _form(request: HttpRequest, place: ShiftPlace, facts: ShiftFacts) -> PlaceForm:
    choices = [
        (str(person), candidate_words(*_said_of(person, place, facts)))
        for person in _able(place, facts)
    ]
    holder = facts.holder(place)
    return PlaceForm(
        request.POST if request.method == "POST" else None,
        choices=choices,
        holder=str(holder) if holder else NOBODY,
    )


def _able(place: ShiftPlace, facts: ShiftFacts) -> list[int]:
    """Return who may hold a place: its holder, who is asked first, then the others."""
    holder = facts.holder(place)
    first = [holder] if holder else []
    asked = facts.who_may(place)
    willing = [one for one in asked if facts.shift.day in facts.members[one].days]
    others = [
        person
        for person in facts.members
        if person not in (*first, *willing) and not facts.stops(place, person)
    ]
    return [*first, *willing, *others]


def _said_of(
    person: int, place: ShiftPlace, facts: ShiftFacts
) -> tuple[str, int | None, Iterable[str]]:
    member, day = facts.members[person], facts.shift.day
    codes = facts.speaks_against(place, person)
    cannot = not member.may_come(day)
    notes = against_words(
        one for one in codes if not (cannot and one is Against.DAY_NOT_OFFERED)
    )
    if cannot:
        notes.insert(0, gettext(CANNOT))
    if person in facts.refused:
        notes.insert(0, gettext(SAID_NO))
    return member.name, member.days.get(day), notes


def _said(place: ShiftPlace, facts: ShiftFacts, person: int | None) -> str:
    where = f"{facts.shift.name}, {full_day(facts.shift.day)}"
    if person is None:
        return gettext("{where}: the place is open.").format(where=where)
    return gettext("{where}: {name} is on it.").format(
        where=where, name=facts.members[person].name
    )


def _about(page: SitePage, place: ShiftPlace, facts: ShiftFacts) -> dict[str, object]:
    shift = facts.shift
    plan = standing(read_rota(page.site, shift.day, shift.day, page.today))
    names = {pk: one.name for pk, one in plan.facts.rows.members.items()}
    why = plan.why.get(place.pk)
    holder = facts.holder(place)
    return {
        "shift": shift,
        "day": full_day(shift.day),
        "hours": hours_words(shift, page.site),
        "holder": names.get(holder or 0, ""),
        "skill": skill_words(place.skill) if place.skill else "",
        "why": why_words(why, names) if why else (),
        "is_draft": shift.status == Shift.Status.DRAFT,
        "is_learner": place.is_learner,
        "back": rota_address(page, shift.day),
    }
