"""What the local watering rules do to a day, in words."""

from datetime import date, timedelta

from django.utils.translation import gettext, pgettext_lazy

from care.views.days import WEEK, full_day, when_day
from care.views.reason_words import Teller
from orchard.languages import listed

DAY_NAMES = {
    "Mon": pgettext_lazy("days of watering", "Mondays"),
    "Tue": pgettext_lazy("days of watering", "Tuesdays"),
    "Wed": pgettext_lazy("days of watering", "Wednesdays"),
    "Thu": pgettext_lazy("days of watering", "Thursdays"),
    "Fri": pgettext_lazy("days of watering", "Fridays"),
    "Sat": pgettext_lazy("days of watering", "Saturdays"),
    "Sun": pgettext_lazy("days of watering", "Sundays"),
}
NO_DAY = "none"


def local_rule_words(teller: Teller) -> str:
    """Return how a local rule moved or forbids a watering, or nothing."""
    weekdays = teller.reason.text("rule_weekdays")
    if not weekdays:
        return ""
    source = teller.reason.text("rule_source")
    rule = (
        gettext("The local watering rule ({source})").format(source=source)
        if source
        else gettext("The local watering rule")
    )
    if teller.reason.holds("rule_forbids"):
        return " " + gettext("{rule} hurts here: {hurts}").format(
            rule=rule, hurts=_hurts(teller)
        )
    if teller.reason.holds("rule_by_hand"):
        return " " + gettext(
            "{rule} allows no drippers or sprinklers in time, but spares watering "
            "by hand: use a can or hold the hose."
        ).format(rule=rule)
    moved = ""
    if teller.reason.day("rule_moved_from"):
        moved = " " + gettext("Moved from {rule_moved_from}.").format(
            rule_moved_from=teller.near_day("rule_moved_from")
        )
    late = ""
    if teller.reason.holds("rule_late_if_dry"):
        late = " " + gettext(
            "If nobody watered, that is late for it: feel the soil, and ask for an "
            "exception if it is dry."
        )
    if weekdays == NO_DAY:
        return moved + (
            " "
            + gettext("{rule} allows no water in those days.").format(rule=rule)
            + f"{late}"
        )
    return moved + (
        " "
        + gettext("{rule} allows water on {days} only.").format(
            rule=rule, days=_days(weekdays)
        )
        + f"{late}"
    )


def _days(weekdays: str) -> str:
    return listed([str(DAY_NAMES[name]) for name in weekdays.split(", ")])


def _hurts(teller: Teller) -> str:
    """Say when it may be watered again, when it suffers, and what is left to do."""
    allowed = teller.reason.day("rule_next_allowed")
    short = teller.reason.day("rule_short_from")
    when = gettext("it allows no day at all")
    if allowed is not None:
        when = gettext("the next day it allows is {day}").format(
            day=_day(teller, allowed)
        )
    dry = ""
    if short is not None:
        since = max(short, teller.today + timedelta(days=1))
        dry = gettext(", and it likely suffers from {day} on").format(
            day=_day(teller, since)
        )
    return gettext(
        "{when}{dry}. Ask for an exception, or shade it and mulch it until then."
    ).format(when=when, dry=dry)


def _day(teller: Teller, day: date) -> str:
    words = when_day(day, teller.today)
    return words if (day - teller.today).days < WEEK else full_day(day)
