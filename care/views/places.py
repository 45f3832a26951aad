"""What is pressed on a place: yes and no, cover, taking, leaving, swaps, hours."""

from collections.abc import Callable
from dataclasses import dataclass

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.translation import gettext
from django.views.decorators.http import require_POST

from care.actions import place_swaps, places, places_arranged
from care.actions.place_changes import PlaceError
from care.forms.places import CoverForm, MinutesForm, SwapForm
from care.models import Shift, ShiftPlace
from care.planning.plan_site import ensure_planned
from care.views.place_words import against_words, stop_words
from orchard.access import May
from orchard.views.site_page import SitePage, back_to, let_in


@dataclass(frozen=True, slots=True)
class Pressed:
    """A place somebody pressed something on."""

    request: HttpRequest
    page: SitePage
    place: ShiftPlace

    def answer(self, act: Callable[[], str]) -> HttpResponse:
        """Do it and go back, with what came of it in words."""
        ensure_planned(self.page.site, self.page.today)
        try:
            messages.success(self.request, act())
        except PlaceError as error:
            messages.error(self.request, stop_words(error.codes))
        return back_to(self.request, reverse("my_shifts", args=[self.page.site.slug]))

    def press(
        self, action: Callable[..., object], said: str, **more: object
    ) -> HttpResponse:
        """Let the member do ``action`` with the place, and say it in their words."""

        def act() -> str:
            by, now = self.page.membership, self.page.now
            action(place=self.place, by=by, now=now, **more)
            return said

        return self.answer(act)

    def refuse(self, form: forms.Form) -> HttpResponse:
        """Go back with what is wrong with what was sent; nothing was changed."""
        said = " ".join(str(one) for some in form.errors.values() for one in some)
        messages.error(self.request, said)
        return back_to(self.request, reverse("my_shifts", args=[self.page.site.slug]))


def _pressed(request: HttpRequest, site: str, place: int) -> Pressed:
    """Let a member in who may tick, to a place of their site.

    Raises
    ------
    Http404
        There is no such place, or it is of a draft and they arrange no shifts.
    """
    page = let_in(request, site, May.TICK)
    row = _place(page, place)
    return Pressed(request, page, row)


def _place(page: SitePage, place_id: int) -> ShiftPlace:
    rows = ShiftPlace.objects.filter(shift__site=page.site).select_related("shift")
    row = get_object_or_404(rows, pk=place_id)
    if row.shift.status == Shift.Status.DRAFT and not page.may_arrange:
        raise Http404
    return row


@require_POST
@login_required
def place_accept(request: HttpRequest, site: str, place: int) -> HttpResponse:
    """Say yes to a place one was given."""
    pressed = _pressed(request, site, place)
    return pressed.press(
        places.accept,
        gettext("You are on it. Thank you."),
    )


@require_POST
@login_required
def place_refuse(request: HttpRequest, site: str, place: int) -> HttpResponse:
    """Say no to a place one was given."""
    pressed = _pressed(request, site, place)
    return pressed.press(
        places.refuse,
        gettext("Thank you for saying so. You will not be asked for this shift again."),
    )


@require_POST
@login_required
def place_offer(request: HttpRequest, site: str, place: int) -> HttpResponse:
    """Ask everybody who may, or one of them, for cover."""
    pressed, form = _pressed(request, site, place), CoverForm(request.POST)
    if not form.is_valid():
        return pressed.refuse(form)
    return pressed.press(
        places.ask_for_cover,
        gettext("You asked for cover. It is still yours until somebody takes it."),
        to=form.cleaned_data["to"],
    )


@require_POST
@login_required
def place_keep(request: HttpRequest, site: str, place: int) -> HttpResponse:
    """Keep a place after all."""
    pressed = _pressed(request, site, place)
    return pressed.press(
        places.keep,
        gettext("You keep it. Nobody is asked any more."),
    )


@require_POST
@login_required
def place_claim(request: HttpRequest, site: str, place: int) -> HttpResponse:
    """Take an open place, or one that cover is asked for."""
    pressed = _pressed(request, site, place)

    def act() -> str:
        taken = places.claim(
            place=pressed.place, by=pressed.page.membership, now=pressed.page.now
        )
        return " ".join(
            filter(None, [gettext("It is yours."), against_words(taken.against)])
        )

    return pressed.answer(act)


@require_POST
@login_required
def place_leave(request: HttpRequest, site: str, place: int) -> HttpResponse:
    """Say that one cannot come."""
    pressed = _pressed(request, site, place)
    return pressed.press(
        places.leave,
        gettext(
            "You are off it, and no reason is asked. Whoever may take your place is told, "
            "and so are those who arrange the shifts."
        ),
    )


@require_POST
@login_required
def place_swap(request: HttpRequest, site: str, place: int) -> HttpResponse:
    """Ask to swap, or say yes to a swap one was asked for."""
    pressed, form = _pressed(request, site, place), SwapForm(request.POST)
    if not form.is_valid():
        return pressed.refuse(form)
    own = _place(pressed.page, form.cleaned_data["give"])
    by, now = pressed.page.membership, pressed.page.now

    def act() -> str:
        if places.swap_asked(pressed.place) == own.pk:
            place_swaps.swap(place=own, other=pressed.place, by=by, now=now)
            return gettext("You swapped. Your new shift stands below.")
        place_swaps.ask_to_swap(place=own, other=pressed.place, by=by, now=now)
        return gettext(
            "You asked to swap. Both keep their own until the answer is yes."
        )

    return pressed.answer(act)


@require_POST
@login_required
def place_decline(request: HttpRequest, site: str, place: int) -> HttpResponse:
    """Say no to cover or a swap one was asked for."""
    pressed = _pressed(request, site, place)
    return pressed.press(
        place_swaps.decline,
        gettext("You said no. They are told that it is still theirs."),
    )


@require_POST
@login_required
def place_missed(request: HttpRequest, site: str, place: int) -> HttpResponse:
    """Say that somebody was not there."""
    pressed = _pressed(request, site, place)
    return pressed.press(
        places_arranged.mark_missed,
        gettext(
            "Written down. Those who arrange the shifts see it, and they themselves."
        ),
    )


@require_POST
@login_required
def place_hours(request: HttpRequest, site: str, place: int) -> HttpResponse:
    """Write down how long somebody worked."""
    pressed, form = _pressed(request, site, place), MinutesForm(request.POST)
    if not form.is_valid():
        return pressed.refuse(form)
    return pressed.press(
        places_arranged.write_hours,
        gettext("The time is written down. Thank you."),
        minutes=form.cleaned_data["minutes"],
    )
