"""The rains of a site in words."""

from datetime import date

from care.facts import RainState
from care.planning.rains import Rains, SoakingRain
from care.views.days import count_days, short_day
from orchard.units import UnitSystem, format_length_mm


def rains_words(rains: Rains, today: date) -> str:
    """Return whether the rains have set in or ended, with how sure that is."""
    if rains.state is RainState.UNKNOWN:
        return "Unknown: not every month's usual rain is known yet."
    if rains.state is RainState.NO_SEASON:
        return (
            "Rain is spread over the year here: there is no rainy season to wait for."
        )
    from_day = f"since {short_day(rains.searched_from or today, today)}"
    if rains.state is RainState.UNREAD:
        return f"Unknown: nobody has measured rain {from_day}."
    if rains.state is RainState.AWAITED:
        return (
            f"The rains have not set in, looking {from_day}. {_unread(rains)}".strip()
        )
    words = _ended(rains, today) if rains.end else _set_in(rains, today)
    return f"{words} {_unread(rains)}".strip()


def _set_in(rains: Rains, today: date) -> str:
    if rains.onset is None:
        return ""
    day = short_day(rains.onset.day, today)
    if rains.onset.is_confirmed:
        return f"The rains set in on {day}."
    return f"The rains may have set in on {day}; a long dry spell could still follow."


def _ended(rains: Rains, today: date) -> str:
    if rains.end is None:
        return ""
    day = short_day(rains.end.day, today)
    if rains.end.is_confirmed:
        return f"{_set_in(rains, today)} They ended on {day}."
    dry = count_days(rains.end.dry_days)
    return f"{_set_in(rains, today)} They may have ended on {day}: {dry} dry since."


def _unread(rains: Rains) -> str:
    unread = rains.days - rains.read_days
    if not unread:
        return ""
    return f"Nobody measured rain on {unread} of these {count_days(rains.days)}."


def soaking_words(soaking: SoakingRain | None, units: UnitSystem) -> str:
    """Return how long ago a rain soaked in, as a range where days went unread."""
    if soaking is None:
        return "Unknown: no rain has been measured here."
    least = format_length_mm(soaking.least_mm, units)
    if not soaking.is_on_record and soaking.at_least == soaking.at_most:
        return (
            f"None of {least} or more in {count_days(soaking.at_most)}: no more are on "
            "record."
        )
    if not soaking.is_on_record:
        return (
            f"None of {least} or more was measured in {count_days(soaking.at_most)}; "
            "some days were not read."
        )
    if soaking.at_most == 0:
        return f"Today, {least} or more."
    if soaking.at_least == soaking.at_most:
        return f"{count_days(soaking.at_most)} ago, {least} or more."
    return (
        f"{count_days(soaking.at_most)} ago at most, {least} or more; days since then "
        "were not read."
    )
