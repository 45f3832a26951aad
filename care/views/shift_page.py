"""One shift: what to do, who comes, what may hurt, its weather."""

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext
from django.views.decorators.http import require_safe

from care.models import Shift, ShiftPlace
from care.planning.place_rules import may_begin
from care.planning.plan_site import ensure_planned
from care.planning.shift_times import ends_at
from care.planning.shift_weather import Advice, Call, calls_of
from care.planning.shift_work import (
    Hazard,
    ShiftWork,
    hazards_of,
    is_hazardous,
    work_of,
)
from care.views.days import full_day
from care.views.hold_words import hold_words
from care.views.place_lines import lines_of_shift
from care.views.shift_words import (
    HELD,
    call_words,
    cancel_words,
    hazard_cautions,
    hazard_words,
    hours_words,
    is_known,
    open_words,
    people_words,
    state_words,
    work_words,
)
from care.views.task_lines import NO_BLOCK, TaskLine, task_line
from orchard.sources.official_warnings import site_moment
from orchard.views.site_page import SitePage, let_in

EARLY = "07:00"


@dataclass(frozen=True, slots=True)
class BlockWork:
    """The work of a shift in one block, in walking order."""

    title: str
    lines: tuple[TaskLine, ...]


@dataclass(frozen=True, slots=True)
class CallLine:
    """One danger of the weather, and what can be done about it with one tap."""

    words: str
    advice: Advice
    why: str


def find_shift(page: SitePage, uid: uuid.UUID) -> Shift:
    """Return a shift of the site that the member may see.

    Raises
    ------
    Http404
        There is none here, or it is a draft and they do not arrange shifts.
    """
    rows = Shift.objects.select_related("site__orchard", "block", "series")
    shift = rows.filter(site=page.site, uid=uid).first()
    is_hidden = shift is not None and shift.published_at is None
    if shift is None or (is_hidden and not page.may_arrange):
        raise Http404
    return shift


@require_safe
@login_required
def shift(request: HttpRequest, site: str, shift: uuid.UUID) -> HttpResponse:
    """Show one shift: its work in walking order, its people, what to mind."""
    page = let_in(request, site, page="more")
    row = find_shift(page, shift)
    ensure_planned(page.site, page.today)
    work = work_of([row], page.today)[row.pk]
    found = calls_of(page.site, [row], {row.pk: work}, page.now)[row.pk]
    places = list(row.places.select_related("holder"))
    moment = site_moment(page.site, page.now)
    is_on = row.status != Shift.Status.CANCELLED
    is_ahead = is_on and ends_at(row, page.site) > moment
    context = page.context(
        shift=row,
        day=full_day(row.day),
        hours=hours_words(row, page.site),
        state=state_words(row, moment, page.site),
        people=people_words(places),
        free=open_words(places) if is_ahead else "",
        lines=lines_of_shift(page, row),
        amount=work_words(row, work, _needed(places), page.today),
        blocks=_blocks(work, page),
        hazards=hazard_words(_hazards(row, work)),
        cautions=hazard_cautions(_hazards(row, work)),
        held=[
            f"{one.tree.name}: {hold_words([one.hold], one.tree.pk, page.today)}"
            for one in work.held
        ],
        calls=[_call_line(call, page) for call in found] if is_ahead else [],
        is_on=is_on,
        is_ahead=is_ahead,
        can_begin=can_begin(row, page) and is_ahead,
        is_alone=not are_enough(row, work, places),
        has_hazard_tasks=any(map(hazards_of, work.tasks)),
        is_work_gone=is_ahead and not work.tasks and is_known(row, page.today),
        early=EARLY,
    )
    return render(request, "care/shift.html", context)


def _needed(places: Iterable[ShiftPlace]) -> int:
    return sum(not place.is_learner for place in places)


def _hazards(shift: Shift, work: ShiftWork) -> frozenset[Hazard]:
    """Return the hazards that tasks tell of; all, where it was only said by hand."""
    if work.hazards or not shift.is_hazardous:
        return work.hazards
    return frozenset(Hazard)


def _blocks(work: ShiftWork, page: SitePage) -> tuple[BlockWork, ...]:
    groups = groupby(work.tasks, key=lambda task: task.tree.block)
    return tuple(
        BlockWork(
            block.name if block else gettext(NO_BLOCK),
            tuple(task_line(task, page.today, page.units) for task in tasks),
        )
        for block, tasks in groups
    )


def _call_line(call: Call, page: SitePage) -> CallLine:
    return CallLine(call_words(call, page.units), call.advice, cancel_words(call))


def can_begin(shift: Shift, page: SitePage) -> bool:
    """Whether the member may begin a shift now."""
    is_published = shift.status == Shift.Status.PUBLISHED
    is_today = shift.day == page.today
    return page.may_tick and is_published and is_today and shift.begun_at is None


def are_enough(shift: Shift, work: ShiftWork, places: Iterable[ShiftPlace]) -> bool:
    """Whether as many are there as its hazards ask for."""
    present = {
        place.holder_id
        for place in places
        if place.state in HELD and place.holder_id and not place.is_learner
    }
    hazardous = is_hazardous(shift, work)
    return may_begin(is_hazardous=hazardous, present=present)
