"""Shifts as a member's calendar shows them: those in which they hold a place.

Of how to get in it says nothing, nor who else comes: calendars are kept by strangers'
servers and read over shoulders. Its address leads to the page that says all.
"""

from collections.abc import Iterable
from datetime import datetime, timedelta

from django.conf import settings
from django.db.models import Count, Max, Q, QuerySet
from django.urls import reverse
from django.utils.translation import gettext, gettext_noop

from care.calendars.events import CalendarShift
from care.models import Shift, ShiftPlace
from care.planning.shift_times import begins_at, ends_at
from care.views.shift_words import cancelled_words
from care.views.wording import NOUNS
from orchard.models import Membership, Site

DAYS_BACK = timedelta(days=30)
DAYS_AHEAD = timedelta(days=400)
#: A cancelled shift stays so long past its day: one that vanished would be looked for.
CANCELLED_STAYS = timedelta(days=7)
COMES = (ShiftPlace.State.HELD, ShiftPlace.State.OFFERED, ShiftPlace.State.DONE)
ELSEWHERE = gettext_noop("How to get in, and what to bring, is on the shift's page.")


def shifts_of(membership: Membership, now: datetime) -> list[CalendarShift]:
    """Return the shifts of all sites of an orchard in which a member holds a place.

    A shift changes what a calendar shows when itself or who holds its places does.
    """
    shifts = [shift for shift in _held(membership) if _is_shown(shift, now)]
    several = bool(shifts) and membership.orchard.sites.count() > 1
    return [
        _event(shift, f"{shift.site.name}, " if several else "") for shift in shifts
    ]


def _held(membership: Membership) -> QuerySet[Shift]:
    """Return all shifts of a member that they were told of."""
    own = ShiftPlace.objects.filter(holder=membership.person_id, state__in=COMES)
    counted = Q(places__is_learner=False)
    come = counted & Q(places__state__in=COMES)
    return (
        Shift.objects.exclude(status=Shift.Status.DRAFT)
        .filter(
            site__orchard=membership.orchard_id,
            published_at__isnull=False,
            pk__in=own.values("shift"),
        )
        .select_related("block", "site")
        .annotate(
            needed=Count("places", filter=counted, distinct=True),
            come=Count("places", filter=come, distinct=True),
            handed_at=Max("places__hand_overs__at"),
        )
    )


def _is_shown(shift: Shift, now: datetime) -> bool:
    today = shift.site.today(now)
    is_off = shift.status == Shift.Status.CANCELLED
    back = CANCELLED_STAYS if is_off else DAYS_BACK
    return today - back <= shift.day <= today + DAYS_AHEAD


def _event(shift: Shift, place: str) -> CalendarShift:
    site = shift.site
    shift.day += timedelta(days=site.calendar_shift_days)
    needed: int = getattr(shift, "needed")  # noqa: B009 (annotated, as the next two)
    come: int = getattr(shift, "come")  # noqa: B009
    handed_at: datetime | None = getattr(shift, "handed_at")  # noqa: B009
    return CalendarShift(
        uid=shift.uid,
        begins=begins_at(shift, site),
        ends=ends_at(shift, site),
        summary=place
        + gettext("{name}: {come} of {needed} people").format(
            name=shift.name, come=come, needed=needed
        ),
        description="\n".join(_lines(shift, site)),
        sequence=shift.sequence,
        changed_at=max(filter(None, (shift.changed_at, handed_at))),
        is_cancelled=shift.status == Shift.Status.CANCELLED,
        url=settings.BASE_URL + reverse("shift", args=[site.slug, shift.uid]),
    )


def _lines(shift: Shift, site: Site) -> Iterable[str]:
    if shift.status == Shift.Status.CANCELLED:
        yield gettext("It does not take place.")
        if shift.cancelled_why:
            yield cancelled_words(shift.cancelled_why)
        return
    yield gettext("Where: {place}").format(
        place=shift.block.name if shift.block else site.name
    )
    nouns = [gettext(NOUNS.get(kind, kind)) for kind in shift.kinds]
    if nouns:
        yield gettext("What: {work}").format(work=", ".join(nouns))
    else:
        yield gettext("What: what is to do there that day")
    yield gettext(ELSEWHERE)
