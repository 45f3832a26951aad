"""What the local watering rules do to a day, in words."""

from datetime import date, timedelta

from care.views.days import WEEK, day_words, full_day
from care.views.reason_words import Teller

DAY_NAMES = {
    "Mon": "Mondays",
    "Tue": "Tuesdays",
    "Wed": "Wednesdays",
    "Thu": "Thursdays",
    "Fri": "Fridays",
    "Sat": "Saturdays",
    "Sun": "Sundays",
}
NO_DAY = "none"


def local_rule_words(teller: Teller) -> str:
    """Return how a local rule moved or forbids a watering, or nothing."""
    weekdays = teller.reason.text("rule_weekdays")
    if not weekdays:
        return ""
    source = teller.reason.text("rule_source")
    rule = "The local watering rule" + (f" ({source})" if source else "")
    if teller.reason.holds("rule_forbids"):
        return f" {rule} hurts here: {_hurts(teller)}"
    if teller.reason.holds("rule_by_hand"):
        return (
            f" {rule} allows no drippers or sprinklers in time, but spares watering "
            "by hand: use a can or hold the hose."
        )
    moved = ""
    if teller.reason.day("rule_moved_from"):
        moved = f" Moved from {teller.near_day('rule_moved_from')}."
    late = ""
    if teller.reason.holds("rule_late_if_dry"):
        late = (
            " If nobody watered, that is late for it: feel the soil, and ask for an "
            "exception if it is dry."
        )
    if weekdays == NO_DAY:
        return f"{moved} {rule} allows no water in those days.{late}"
    return f"{moved} {rule} allows water on {_days(weekdays)} only.{late}"


def _days(weekdays: str) -> str:
    names = [DAY_NAMES[name] for name in weekdays.split(", ")]
    return " and ".join(filter(None, [", ".join(names[:-1]), names[-1]]))


def _hurts(teller: Teller) -> str:
    """Say when it may be watered again, when it suffers, and what is left to do."""
    allowed = teller.reason.day("rule_next_allowed")
    short = teller.reason.day("rule_short_from")
    when = "it allows no day at all"
    if allowed is not None:
        when = f"the next day it allows is {_day(teller, allowed)}"
    dry = ""
    if short is not None:
        since = max(short, teller.today + timedelta(days=1))
        dry = f", and it likely suffers from {_day(teller, since)} on"
    return f"{when}{dry}. Ask for an exception, or shade it and mulch it until then."


def _day(teller: Teller, day: date) -> str:
    words = day_words(day, teller.today)
    return words if (day - teller.today).days < WEEK else full_day(day)
