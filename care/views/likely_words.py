"""What many courses of the weather say, in words: likely days and where they are from."""

from datetime import date

from django.utils.translation import gettext, gettext_noop, ngettext

from care.planning.ensemble import LikelyDay, Members
from care.views.days import day_range, short_day

TEN = 10
#: What has come, by how it is told.
SINCE = {
    "on": gettext_noop("on {day}"),
    "since": gettext_noop("since {day}"),
    "came on": gettext_noop("came on {day}"),
}


def likely_day_words(
    likely: LikelyDay | None, today: date, *, since: str = "on"
) -> str:
    """Return such as ``likely 28 March - 9 April``; nothing for nothing.

    A day that most courses bring but more than one in ten do not is told with its
    chance; what lies in the forecast without ``likely``, and what has come with
    ``since`` before its day.
    """
    if likely is None:
        return ""
    if likely.low is None:
        return gettext("not likely by {until}").format(
            until=short_day(likely.until, today)
        )
    if likely.is_firm:
        return _firm(likely.low, today, since)
    if likely.high is None:
        return gettext(
            "{low} at the earliest; {tenths} that it comes by {until}"
        ).format(
            low=short_day(likely.low, today),
            tenths=_tenths(likely.share),
            until=short_day(likely.until, today),
        )
    return gettext("likely {day_range}").format(
        day_range=day_range(likely.low, likely.high, today)
    )


def capitalised(words: str) -> str:
    """Return words that begin a sentence."""
    return f"{words[:1].upper()}{words[1:]}"


def _firm(day: date, today: date, since: str) -> str:
    words = short_day(day, today)
    if day < today:
        return gettext(SINCE[since]).format(day=words)
    return gettext("on {words}, by the forecast").format(words=words)


def _tenths(share: float) -> str:
    chances = min(max(round(share * TEN), 1), TEN - 1)
    words = ngettext("{number} chance in 10", "{number} chances in 10", chances)
    return words.format(number=chances)


def members_words(members: Members) -> str:
    """Return such as ``from 3 past years and 27 generated``; nothing for neither."""
    past = ngettext("{number} past year", "{number} past years", members.past_years)
    past = past.format(number=members.past_years)
    if members.past_years and members.generated:
        return gettext("from {past} and {generated} generated").format(
            past=past, generated=members.generated
        )
    if members.past_years:
        return gettext("from {past}").format(past=past)
    return (
        gettext("from {generated} generated years").format(generated=members.generated)
        if members.generated
        else ""
    )
