"""What is done with a shift: changed, cancelled, moved, begun, its ladders left out."""

import uuid

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext, gettext_noop, ngettext
from django.views.decorators.http import require_http_methods, require_POST

from care.actions.shift_changes import (
    SeriesDayError,
    cancel_shift,
    move_shift,
    revive_shift,
)
from care.actions.shifts import (
    NotNowError,
    PlacesHeldError,
    begin_shift,
    change_shift,
    leave_out,
    remove_draft,
)
from care.forms.shift_when import CancelForm, MoveForm
from care.forms.shifts import ShiftForm, skill_initial
from care.models import Shift
from care.planning.plan_site import ensure_planned
from care.planning.shift_work import Hazard, hazards_of, work_of
from care.views.shift_making import form_facts, shifts_ahead
from care.views.shift_page import EARLY, are_enough, can_begin, find_shift
from orchard.access import May
from orchard.languages import listed
from orchard.sources.official_warnings import site_moment
from orchard.views.site_page import SitePage, let_in

CHANGED_MEANWHILE = gettext_noop(
    "Somebody else has changed this shift in the meantime. This is how it is now."
)


def _to_shift(page: SitePage, shift: Shift) -> HttpResponse:
    return redirect("shift", page.site.slug, shift.uid)


@login_required
@require_http_methods(["GET", "POST"])
def shift_edit(request: HttpRequest, site: str, shift: uuid.UUID) -> HttpResponse:
    """Change what a shift is and how many it needs; its holders keep their places."""
    page = let_in(request, site, May.ARRANGE, page="more")
    row = find_shift(page, shift)
    form = ShiftForm(
        request.POST if request.method == "POST" else None,
        **form_facts(page),
        moment=site_moment(page.site, page.now),
        is_new=False,
        initial=_initial(row),
    )
    if form.is_bound and form.is_valid() and _change(request, page, row, form):
        return _to_shift(page, row)
    status = 422 if form.is_bound else 200
    context = page.context(form=form, shift=row)
    return render(request, "care/shift_form.html", context, status=status)


def _initial(shift: Shift) -> dict[str, object]:
    places = shift.places.filter(is_learner=False)
    skills = list(places.values_list("skill", flat=True))
    names = ("name", "minutes", "kinds", "note", "is_critical", "is_hazardous")
    return {
        **{name: getattr(shift, name) for name in names},
        **skill_initial(skills),
        "block": str(shift.block_id or ""),
        "people": len(skills),
    }


def _change(
    request: HttpRequest, page: SitePage, shift: Shift, form: ShiftForm
) -> bool:
    """Change a shift; say at the field where more people hold places than that."""
    try:
        change_shift(
            shift=shift,
            values=form.values(),
            skills=form.skills(),
            person=page.person,
            now=page.now,
        )
    except PlacesHeldError as error:
        names = listed(error.people)
        message = gettext(
            "No place would be left for {names}, who holds one. Need more "
            "people, or take the place back on the rota first."
        ).format(names=names)
        form.add_error("people", message)
        return False
    except NotNowError:
        messages.warning(request, gettext(CHANGED_MEANWHILE))
    else:
        messages.success(
            request,
            gettext("{name} is changed.").format(name=form.cleaned_data["name"]),
        )
    return True


@login_required
@require_http_methods(["GET", "POST"])
def shift_cancel(request: HttpRequest, site: str, shift: uuid.UUID) -> HttpResponse:
    """Cancel a shift with a reason, remove a draft, or let one take place after all."""
    page = let_in(request, site, May.ARRANGE, page="more")
    row = find_shift(page, shift)
    if "after_all" in request.POST:
        revive_shift(shift=row, person=page.person, now=page.now)
        return _to_shift(page, row)
    if "remove" in request.POST:
        return _remove(request, page, row)
    form = CancelForm(request.POST if request.method == "POST" else None)
    if form.is_bound and form.is_valid():
        _cancel(request, page, row, form.cleaned_data["why"])
        return _to_shift(page, row)
    can_remove = row.published_at is None and row.series_id is None
    status = 422 if form.is_bound else 200
    context = page.context(form=form, shift=row, can_remove=can_remove)
    return render(request, "care/shift_cancel.html", context, status=status)


def _remove(request: HttpRequest, page: SitePage, shift: Shift) -> HttpResponse:
    try:
        remove_draft(shift=shift, person=page.person, now=page.now)
    except NotNowError:
        messages.warning(request, gettext(CHANGED_MEANWHILE))
        return _to_shift(page, shift)
    messages.success(request, gettext("{name} is removed.").format(name=shift.name))
    return redirect("shifts", page.site.slug)


def _cancel(request: HttpRequest, page: SitePage, shift: Shift, why: str) -> None:
    try:
        is_new = cancel_shift(shift=shift, why=why, person=page.person, now=page.now)
    except NotNowError:
        messages.warning(
            request, gettext("It has begun: it cannot be cancelled any more.")
        )
        return
    if not is_new:
        messages.warning(request, gettext(CHANGED_MEANWHILE))
        return
    said = (
        gettext("{name} is cancelled.")
        if shift.published_at is None
        else gettext("{name} is cancelled, and its people are told.")
    )
    messages.success(request, said.format(name=shift.name))


@login_required
@require_http_methods(["GET", "POST"])
def shift_move(request: HttpRequest, site: str, shift: uuid.UUID) -> HttpResponse:
    """Move a shift to another day or hour; its holders keep their places and are told."""
    page = let_in(request, site, May.ARRANGE, page="more")
    row = find_shift(page, shift)
    starts_at = EARLY if "early" in request.GET else row.starts_at
    form = MoveForm(
        request.POST if request.method == "POST" else None,
        site=page.site,
        shift=row,
        moment=site_moment(page.site, page.now),
        others=shifts_ahead(page),
        initial={"day": row.day, "starts_at": starts_at},
    )
    if form.is_bound and form.is_valid() and _move(request, page, row, form):
        return _to_shift(page, row)
    status = 422 if form.is_bound else 200
    context = page.context(form=form, shift=row)
    return render(request, "care/shift_move.html", context, status=status)


def _move(request: HttpRequest, page: SitePage, shift: Shift, form: MoveForm) -> bool:
    data = form.cleaned_data
    try:
        move_shift(
            shift=shift,
            day=data["day"],
            starts_at=data["starts_at"],
            person=page.person,
            now=page.now,
        )
    except SeriesDayError:
        form.add_error("day", gettext("It repeats, and has a shift that day already."))
        return False
    except NotNowError:
        messages.warning(
            request, gettext("It has begun or is cancelled: it stays where it is.")
        )
    else:
        said = (
            gettext("{name} is moved.")
            if shift.published_at is None
            else gettext("{name} is moved. Its people are told.")
        )
        messages.success(request, said.format(name=shift.name))
    return True


@require_POST
@login_required
def shift_begin(request: HttpRequest, site: str, shift: uuid.UUID) -> HttpResponse:
    """Begin a shift: from now on its trees keep their order."""
    page = let_in(request, site, May.TICK)
    row = find_shift(page, shift)
    ensure_planned(page.site, page.today)
    work = work_of([row], page.today)[row.pk]
    if not can_begin(row, page):
        if row.begun_at is None:
            messages.warning(
                request, gettext("It begins on its own day, once it is published.")
            )
        return _to_shift(page, row)
    if not are_enough(row, work, row.places.all()):
        messages.warning(
            request,
            gettext(
                "Nobody works alone with a ladder, a saw or a spray. Wait for a second "
                "person, or leave that work out."
            ),
        )
        return _to_shift(page, row)
    trees = [task.tree_id for task in work.tasks]
    try:
        begin_shift(shift=row, trees=trees, person=page.person, now=page.now)
    except NotNowError:
        messages.warning(request, gettext(CHANGED_MEANWHILE))
    return _to_shift(page, row)


@require_POST
@login_required
def shift_ladders(request: HttpRequest, site: str, shift: uuid.UUID) -> HttpResponse:
    """Give what needs a ladder back to the plan, or all that nobody does alone."""
    page = let_in(request, site, May.ARRANGE)
    row = find_shift(page, shift)
    ensure_planned(page.site, page.today)
    work = work_of([row], page.today)[row.pk]
    wanted = frozenset(Hazard) if "all" in request.POST else {Hazard.LADDER}
    tasks = [task for task in work.tasks if hazards_of(task) & wanted]
    number = leave_out(shift=row, tasks=tasks, person=page.person, now=page.now)
    if number:
        messages.success(
            request,
            ngettext(
                "{number} task goes back to the plan, for another day.",
                "{number} tasks go back to the plan, for another day.",
                number,
            ).format(number=number),
        )
    else:
        messages.info(
            request, gettext("No task of it says that it needs one: tell its people.")
        )
    return _to_shift(page, row)
