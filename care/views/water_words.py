"""How a tree stands for water this morning, in words."""

from datetime import date, timedelta

from django.utils.translation import gettext, gettext_noop

from care.facts import WaterOutlook
from care.planning.ensemble import Members
from care.views.days import count_days, day_range, short_day
from care.views.likely_words import members_words
from orchard.units import UnitSystem, format_quantity

UNHEARD_DAYS = 7
SOON_DAYS = 30
WET_POT = gettext_noop(
    "The pot is full of water: leave it alone, because roots without air rot. "
    "Empty the saucer."
)
WET_GROUND = gettext_noop(
    "The ground is full of water: leave it alone, because roots without air rot."
)
FED_FROM_BELOW = gettext_noop(
    "Leave it alone: in the wet season the water table is within reach of its roots."
)


def water_words(outlook: WaterOutlook | None, today: date, units: UnitSystem) -> str:
    """Return what is left of a tree's water and when it wants more, or why it is left."""
    if outlook is None:
        return gettext("Unknown: without weather there is no reckoning.")
    if outlook.is_frozen:
        return gettext("The soil is frozen: no water now.")
    if outlook.is_saturated:
        return gettext(WET_POT if outlook.is_container else WET_GROUND)
    if "water_table_within_reach" in outlook.notes:
        return gettext(FED_FROM_BELOW)
    spare = format_quantity(max(outlook.spare_l, 0.0), "L", units)
    usable = format_quantity(outlook.readily_available_l, "L", units)
    left = gettext("{spare} left of the {usable} it may use.").format(
        spare=spare, usable=usable
    )
    return f"{left} {_when(outlook, today)}{_unheard(outlook)}".strip()


def _when(outlook: WaterOutlook, today: date) -> str:
    if outlook.rest_since is not None and outlook.rest_probability is not None:
        in_a_hundred = round(100 * outlook.rest_probability)
        return gettext(
            "Since the rain of {rest_since}: probably no watering for the next "
            "month ({in_a_hundred} in 100)."
        ).format(
            rest_since=short_day(outlook.rest_since, today), in_a_hundred=in_a_hundred
        )
    first, _, last = outlook.likely_in_days
    if first is None:
        return (
            gettext("No watering is in sight.") if outlook.due_in_days is None else ""
        )
    begin = today + timedelta(days=first)
    if last is None:
        source = _from(outlook)
        in_a_hundred = round(100 * dict(outlook.chances).get(SOON_DAYS, 0.0))
        return gettext(
            "It may want water from {begin} on, or none for months ({in_a_hundred} "
            "in 100 within {soon_days} days){source}."
        ).format(
            begin=short_day(begin, today),
            in_a_hundred=in_a_hundred,
            soon_days=SOON_DAYS,
            source=source,
        )
    span = day_range(begin, today + timedelta(days=last), today)
    source = "" if first == last else _from(outlook)
    return gettext("It likely wants water {span}{source}.").format(
        span=span, source=source
    )


def _from(outlook: WaterOutlook) -> str:
    """Return which years the likely days come from, nothing where none had a say."""
    count = outlook.past_years + outlook.generated_years
    words = members_words(Members(count, outlook.past_years, outlook.generated_years))
    return f", {words}" if words else ""


def _unheard(outlook: WaterOutlook) -> str:
    if outlook.unknown_water_days <= UNHEARD_DAYS:
        return ""
    return " " + gettext("Nobody logged water for {unknown_water_days}.").format(
        unknown_water_days=count_days(outlook.unknown_water_days)
    )
