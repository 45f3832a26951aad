"""The rains of a site in words."""

from collections.abc import Iterable
from datetime import date

from django.utils.translation import gettext, gettext_noop

from care.facts import RainState
from care.planning.moist_months import MoistMonths
from care.planning.rain_lately import RainLately
from care.planning.rain_year import RainYear
from care.planning.rains import Rains, SoakingRain
from care.views.days import count_days, short_day
from orchard.languages import day_and_month, listed
from orchard.units import UnitSystem, format_length_mm

NEWS_DAYS = 14  # how long a sure onset or end stays on the first page

WETNESS_WORDS = {
    "extremely_dry": gettext_noop("extremely dry"),
    "severely_dry": gettext_noop("severely dry"),
    "moderately_dry": gettext_noop("rather dry"),
    "near_normal": gettext_noop("near the usual"),
    "moderately_wet": gettext_noop("rather wet"),
    "severely_wet": gettext_noop("very wet"),
    "extremely_wet": gettext_noop("extremely wet"),
}


def rains_words(rains: Rains, today: date) -> str:
    """Return whether the rains have set in or ended, with how sure that is."""
    if rains.state is RainState.UNKNOWN:
        return gettext("Unknown: not every month's usual rain is known yet.")
    if rains.state is RainState.NO_SEASON:
        return gettext(
            "Rain is spread over the year here: there is no rainy season to wait for."
        )
    since = short_day(rains.searched_from or today, today)
    if rains.state is RainState.UNREAD:
        return gettext("Unknown: nobody has measured rain since {since}.").format(
            since=since
        )
    if rains.state is RainState.AWAITED:
        return (
            gettext("The rains have not set in, looking since {since}.").format(
                since=since
            )
            + f" {_unread(rains)}"
        ).strip()
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
        return gettext("The rain year begins today.")
    if year.fell_mm is None or year.read_until is None:
        return gettext("Unknown: nobody has measured rain since {since}.").format(
            since=since
        )
    words = gettext("{fell} since {since}").format(
        fell=format_length_mm(year.fell_mm, units), since=since
    )
    usual_mm = year.past.usual_after((year.read_until - year.start).days + 1)
    if usual_mm is not None:
        usual = format_length_mm(usual_mm, units)
        if year.past.count == 1:
            words += gettext("; {usual} the year before").format(usual=usual)
        else:
            words += gettext("; {usual} is usual by then").format(usual=usual)
    if year.unread_days:
        words += gettext(". {unread_days} not read, so it may be more").format(
            unread_days=count_days(year.unread_days)
        )
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
        return gettext("The rains set in on {day}.").format(day=day)
    return gettext(
        "The rains seem to have set in since {day}; still uncertain{until}, as a "
        "long dry spell could follow."
    ).format(day=day, until=_until(rains, today))


def _false_starts(rains: Rains, today: date) -> str:
    """Return the wet spells before the onset that a long dry run followed."""
    if rains.onset is None or not rains.onset.false_starts:
        return ""
    days = listed([short_day(day, today) for day in rains.onset.false_starts])
    return gettext("Wet spells before it dried up again: {days}.").format(days=days)


def _ended(rains: Rains, today: date) -> str:
    if rains.end is None:
        return ""
    day = short_day(rains.end.day, today)
    if rains.end.is_confirmed:
        return gettext("The rains ended on {day}.").format(day=day)
    dry = count_days(rains.end.dry_days)
    return gettext(
        "The rains seem to have ended on {day}, {dry} dry since; still "
        "uncertain{until}."
    ).format(day=day, dry=dry, until=_until(rains, today))


def _until(rains: Rains, today: date) -> str:
    """Return until when, unless days that nobody read leave it open."""
    if rains.sure_on is None or rains.sure_on <= today:
        return ""
    return " " + gettext("until {sure}").format(sure=short_day(rains.sure_on, today))


def moist_words(periods: Iterable[MoistMonths]) -> str:
    """Return when rain usually feeds plants; nothing where it always does or never."""
    words = []
    for period in periods:
        begin, end = (day_and_month(day) for day in (period.begin, period.end))
        stored = (
            ""
            if period.stored_until is None
            else gettext(
                ", and the soil's store then lasts until about {stored_until}"
            ).format(stored_until=day_and_month(period.stored_until))
        )
        words.append(
            gettext("from {begin} to {end}{stored}").format(
                begin=begin, end=end, stored=stored
            )
        )
    if not words:
        return ""
    return gettext("Rain covers half of what plants use {items}.").format(
        items="; ".join(words)
    )


def lately_words(lately: RainLately, units: UnitSystem) -> str:
    """Return such as ``12 mm, 35 % of the usual 34 mm; severely dry``."""
    fell = format_length_mm(lately.fell_mm, units)
    words = gettext("At least {fell}").format(fell=fell) if lately.unread_days else fell
    if lately.share is not None and lately.usual_mm is not None:
        usual = format_length_mm(lately.usual_mm, units)
        words += gettext(", {share} of the usual {usual}").format(
            share=f"{lately.share:.0%}", usual=usual
        )
    elif lately.usual_mm is not None:
        words += gettext(", where hardly any is usual")
    if lately.wetness is not None:
        words += gettext(
            "; {wetness} for the time of year, going by {years} years"
        ).format(
            wetness=gettext(WETNESS_WORDS[lately.wetness.value]), years=lately.years
        )
    if lately.unread_days:
        words += gettext(". {unread_days} not read").format(
            unread_days=count_days(lately.unread_days)
        )
    return f"{words}."


def _unread(rains: Rains) -> str:
    unread = rains.days - rains.read_days
    if not unread:
        return ""
    return gettext("Nobody measured rain on {unread} of these {days}.").format(
        unread=unread, days=count_days(rains.days)
    )


def soaking_words(soaking: SoakingRain | None, units: UnitSystem) -> str:
    """Return how long ago a rain soaked in, as a range where days went unread."""
    if soaking is None:
        return gettext("Unknown: no rain has been measured here.")
    least = format_length_mm(soaking.least_mm, units)
    if not soaking.is_on_record and soaking.at_least == soaking.at_most:
        return gettext(
            "None of {least} or more in {at_most}: no more are on record."
        ).format(least=least, at_most=count_days(soaking.at_most))
    if not soaking.is_on_record:
        return gettext(
            "None of {least} or more was measured in {at_most}; some days were not "
            "read."
        ).format(least=least, at_most=count_days(soaking.at_most))
    if soaking.at_most == 0:
        return gettext("Today, {least} or more.").format(least=least)
    if soaking.at_least == soaking.at_most:
        return gettext("{at_most} ago, {least} or more.").format(
            at_most=count_days(soaking.at_most), least=least
        )
    return gettext(
        "{at_most} ago at most, {least} or more; days since then were not read."
    ).format(at_most=count_days(soaking.at_most), least=least)
