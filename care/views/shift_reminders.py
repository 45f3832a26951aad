"""The evening before a shift: whoever holds a place is told once, by their own channels."""

import logging
from datetime import datetime, timedelta

from django.urls import reverse
from django.utils.translation import gettext

from care.actions.places_arranged import close_unconfirmed, settle_site
from care.models import Shift
from care.planning.place_facts import HELD, read_facts
from care.planning.plan_site import ensure_planned
from care.planning.shift_times import begins_at
from care.planning.shift_work import Hazard
from care.views.evening_messages import is_evening
from care.views.shift_words import hazard_words, hours_words
from orchard.actions.messages import Told, write_message
from orchard.languages import clock, in_language
from orchard.models import Person, Site

logger = logging.getLogger(__name__)

DAY = timedelta(days=1)


def remind_of_tomorrow(site: Site, now: datetime) -> int:
    """Write what holders are told the evening before; return how many messages are new.

    The site's plan is to be fresh. From four to ten in the evening there, once for each
    shift and day. A learner whose place is on hold is told of that.
    """
    if not is_evening(site, now):
        return 0
    today = site.today(now)
    shifts = Shift.objects.filter(
        site=site, day=today + DAY, status=Shift.Status.PUBLISHED
    )
    tomorrow = list(shifts.select_related("block"))
    if not tomorrow:
        return 0
    facts = read_facts(site, tomorrow, today)
    written = 0
    for one in facts.values():
        for place in one.places:
            holder = one.holder(place)
            if place.state in HELD and place.holder is not None and holder is not None:
                with in_language(place.holder.language):
                    lines = [_when(one.shift, site), *_mind(one.work.hazards)]
                    lines.append(
                        _said(is_on_hold=one.is_on_hold(place), state=place.state)
                    )
                    written += _remind(one.shift, site, place.holder, lines, now)
    return written


def _when(shift: Shift, site: Site) -> str:
    where = f"{shift.block.name}, {site.name}" if shift.block else site.name
    return f"{hours_words(shift, site)}, {where}."


def _mind(hazards: frozenset[Hazard]) -> list[str]:
    words = hazard_words(hazards)
    return (
        [gettext("Mind: {words}. Nobody works with it alone.").format(words=words)]
        if words
        else []
    )


def _said(*, is_on_hold: bool, state: str) -> str:
    if is_on_hold:
        return gettext(
            "Your place to learn is on hold: come only once that has changed."
        )
    if state == "offered":
        return gettext(
            "You asked for cover and nobody took it yet, so it is still yours."
        )
    return gettext("If you cannot come, say so: no reason is asked.")


def _remind(
    shift: Shift, site: Site, person: Person, lines: list[str], now: datetime
) -> bool:
    # Told on the eve of the site's own day, which a demonstration lives apart from.
    begins = begins_at(shift, site)
    message = write_message(
        person=person,
        orchard=site.orchard,
        what=Told.SHIFT_TOMORROW,
        key=f"tomorrow/{shift.uid}/{shift.day}",
        why=gettext("You hold a place in a shift of {orchard}.").format(
            orchard=site.orchard.name
        ),
        title=gettext("Tomorrow: {name}, {time}").format(
            name=shift.name, time=clock(shift.starts_at)
        ),
        lines=lines,
        time_zone=site.time_zone,
        path=reverse("my_shifts", args=[site.slug]),
        due_at=now,
        until=now + DAY if site.own_today else begins,
    )
    return message is not None


def tend_shifts(now: datetime) -> int:
    """Keep the places of every site as the rules have them, and remind; return changes.

    People leave, work changes what may hurt, weeks go by without a word: what pages
    read of that at once is written down here, and said to whom it concerns.

    Raises
    ------
    ExceptionGroup
        What failed, after every other site was tended.
    """
    done, failures = 0, []
    sites = Site.objects.filter(shifts__isnull=False).distinct()
    for site in sites.select_related("orchard").order_by("pk"):
        try:
            done += _tend(site, now)
        except Exception as error:
            logger.exception("Shifts of site %s were not tended", site.pk)
            failures.append(error)
    if failures:
        message = "Shifts of some sites were not tended."
        raise ExceptionGroup(message, failures)
    return done


def _tend(site: Site, now: datetime) -> int:
    ensure_planned(site, site.today(now))
    settled = settle_site(site=site, now=now)
    closed = close_unconfirmed(site=site, now=now)
    return settled + closed + remind_of_tomorrow(site, now)
