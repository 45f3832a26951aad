"""The rains of a site in words."""

from collections.abc import Iterable
from datetime import date

from care.facts import RainState
from care.planning.moist_months import MoistMonths
from care.planning.rain_lately import RainLately
from care.planning.rain_year import RainYear
from care.planning.rains import Rains, SoakingRain
from care.views.days import count_days, short_day
from orchard.units import UnitSystem, format_length_mm

NEWS_DAYS = 14  # how long a sure onset or end stays on the first page

WETNESS_WORDS = {
    "extremely_dry": "extremely dry",
    "severely_dry": "severely dry",
    "moderately_dry": "rather dry",
    "near_normal": "near the usual",
    "moderately_wet": "rather wet",
    "severely_wet": "very wet",
    "extremely_wet": "extremely wet",
}


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
    words = (
        _set_in(rains, today),
        _false_starts(rains, today),
        _ended(rains, today),
        _unread(rains),
    )
    return " ".join(filter(None, words))


def rain_year_words(year: RainYear, today: date, units: UnitSystem) -> str:
    """Return the rain since the rain year began beside what is usual by then."""
    since = short_day(year.start, today)
    if year.start == today:
        return "The rain year begins today."
    if year.fell_mm is None or year.read_until is None:
        return f"Unknown: nobody has measured rain since {since}."
    words = f"{format_length_mm(year.fell_mm, units)} since {since}"
    usual_mm = year.past.usual_after((year.read_until - year.start).days + 1)
    if usual_mm is not None:
        usual = format_length_mm(usual_mm, units)
        one = year.past.count == 1
        words += f"; {usual} the year before" if one else f"; {usual} is usual by then"
    if year.unread_days:
        words += f". {count_days(year.unread_days)} not read, so it may be more"
    return f"{words}."


def rains_notice(rains: Rains, today: date) -> str:
    """Return one line while an onset or end is news, or still uncertain."""
    latest = rains.end or rains.onset
    if latest is None:
        return ""
    if rains.is_provisional or (latest.is_confirmed and _is_news(rains, today)):
        return _ended(rains, today) if rains.end else _set_in(rains, today)
    return ""


def _is_news(rains: Rains, today: date) -> bool:
    return rains.sure_on is not None and (today - rains.sure_on).days < NEWS_DAYS


def _set_in(rains: Rains, today: date) -> str:
    if rains.onset is None:
        return ""
    day = short_day(rains.onset.day, today)
    if rains.onset.is_confirmed:
        return f"The rains set in on {day}."
    return (
        f"The rains seem to have set in since {day}; still uncertain"
        f"{_until(rains, today)}, as a long dry spell could follow."
    )


def _false_starts(rains: Rains, today: date) -> str:
    """Return the wet spells before the onset that a long dry run followed."""
    if rains.onset is None or not rains.onset.false_starts:
        return ""
    *others, last = (short_day(day, today) for day in rains.onset.false_starts)
    days = f"{', '.join(others)} and {last}" if others else last
    return f"Wet spells before it dried up again: {days}."


def _ended(rains: Rains, today: date) -> str:
    if rains.end is None:
        return ""
    day = short_day(rains.end.day, today)
    if rains.end.is_confirmed:
        return f"The rains ended on {day}."
    dry = count_days(rains.end.dry_days)
    return (
        f"The rains seem to have ended on {day}, {dry} dry since; still uncertain"
        f"{_until(rains, today)}."
    )


def _until(rains: Rains, today: date) -> str:
    """Return until when, unless days that nobody read leave it open."""
    if rains.sure_on is None or rains.sure_on <= today:
        return ""
    return f" until {short_day(rains.sure_on, today)}"


def moist_words(periods: Iterable[MoistMonths]) -> str:
    """Return when rain usually feeds plants; nothing where it always does or never."""
    words = []
    for period in periods:
        begin, end = (_month_day(day) for day in (period.begin, period.end))
        stored = (
            ""
            if period.stored_until is None
            else f", and the soil's store then lasts until about "
            f"{_month_day(period.stored_until)}"
        )
        words.append(f"from {begin} to {end}{stored}")
    if not words:
        return ""
    return f"Rain covers half of what plants use {'; '.join(words)}."


def _month_day(day: date) -> str:
    return f"{day.day} {day:%B}"


def lately_words(lately: RainLately, units: UnitSystem) -> str:
    """Return such as ``12 mm, 35 % of the usual 34 mm; severely dry``."""
    fell = format_length_mm(lately.fell_mm, units)
    words = f"At least {fell}" if lately.unread_days else fell
    if lately.share is not None and lately.usual_mm is not None:
        usual = format_length_mm(lately.usual_mm, units)
        words += f", {lately.share:.0%} of the usual {usual}"
    elif lately.usual_mm is not None:
        words += ", where hardly any is usual"
    if lately.wetness is not None:
        words += (
            f"; {WETNESS_WORDS[lately.wetness.value]} for the time of year, going by "
            f"{lately.years} years"
        )
    if lately.unread_days:
        words += f". {count_days(lately.unread_days)} not read"
    return f"{words}."


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
