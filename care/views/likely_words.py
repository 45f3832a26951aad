"""What many courses of the weather say, in words: likely days and where they are from."""

from datetime import date

from care.planning.ensemble import LikelyDay, Members
from care.views.days import day_range, short_day

TEN = 10


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
        return f"not likely by {short_day(likely.until, today)}"
    if likely.is_firm:
        return _firm(likely.low, today, since)
    if likely.high is None:
        return (
            f"{short_day(likely.low, today)} at the earliest; "
            f"{_tenths(likely.share)} that it comes by {short_day(likely.until, today)}"
        )
    return f"likely {day_range(likely.low, likely.high, today)}"


def capitalised(words: str) -> str:
    """Return words that begin a sentence."""
    return f"{words[:1].upper()}{words[1:]}"


def _firm(day: date, today: date, since: str) -> str:
    words = short_day(day, today)
    return f"{since} {words}" if day < today else f"on {words}, by the forecast"


def _tenths(share: float) -> str:
    chances = min(max(round(share * TEN), 1), TEN - 1)
    return "1 chance in 10" if chances == 1 else f"{chances} chances in 10"


def members_words(members: Members) -> str:
    """Return such as ``from 3 past years and 27 generated``; nothing for neither."""
    past = (
        "1 past year" if members.past_years == 1 else f"{members.past_years} past years"
    )
    if members.past_years and members.generated:
        return f"from {past} and {members.generated} generated"
    if members.past_years:
        return f"from {past}"
    return f"from {members.generated} generated years" if members.generated else ""
