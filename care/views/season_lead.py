"""What matters of the season first, in a sentence or two each."""

from collections.abc import Sequence
from datetime import date

from care.facts import WeatherSeries
from care.planning.chill_needs import need_outlook
from care.planning.past_seasons import PastSeasons, firm_until
from care.planning.winter import WinterOutlook
from care.views.chill_need_words import SpeciesNeed
from care.views.days import day_range, short_day
from care.views.winter_words import chill_words, hours_words, round_hours

STALE_DAYS = 3  # as on the round
LITTLE_HOURS = 100.0  # below it only trees that ask for chill need hear of it; ours


def matters(outlook: WinterOutlook, needs: Sequence[SpeciesNeed]) -> bool:
    """Whether chill is worth telling: there is some, or a tree here asks for it."""
    winters = (outlook.latest, *outlook.past)
    most = max(winter.chill.hours_high for winter in winters)
    likely = outlook.likely.hours_high if outlook.likely else 0.0
    return bool(needs) or max(most, likely) >= LITTLE_HOURS


def chill_lead(
    outlook: WinterOutlook, past: PastSeasons, needs: Sequence[SpeciesNeed], today: date
) -> str:
    """Return chill so far, what is usual by now, and the next need that is met.

    Parameters
    ----------
    outlook : WinterOutlook
    past : PastSeasons
        Its winters, for what is usual.
    needs : sequence of SpeciesNeed
        Of the orchard's own trees.
    today : datetime.date
    """
    winter = outlook.latest
    if not winter.is_told:
        return chill_words(outlook, today)
    said = hours_words(winter.chill)
    if not matters(outlook, needs):
        return (
            f"Too little to matter: {said} {'last winter' if winter.is_over else 'so far'}, "
            "and none of your trees asks for any."
        )
    words = [
        f"{said[0].upper()}{said[1:]} {'last winter' if winter.is_over else 'so far'}"
    ]
    usual = past.usual_after(winter.days)
    if usual is not None and winter.days:
        by_now = "" if winter.is_over else " by now"
        before = "the winter before had" if past.count == 1 else "a usual winter has"
        words.append(f"{before} {round_hours(usual)}{by_now}")
    return " ".join(
        filter(None, (f"{'; '.join(words)}.", _next(outlook, needs, today)))
    )


def _next(outlook: WinterOutlook, needs: Sequence[SpeciesNeed], today: date) -> str:
    """Return when the next need is met, or how all of them stand."""
    unmet = []
    for need in needs:
        found = need_outlook(outlook, need.hours)
        if found.met_surely is None:
            unmet.append((need.hours, need.name, found))
    if not needs:
        return ""
    if not unmet:
        return "Enough for all your trees."
    hours, name, found = min(unmet, key=lambda row: row[:2])
    what = f"Enough for {name[0].lower()}{name[1:]} ({hours:,.0f})"
    if outlook.latest.is_over:
        return f"Not enough for {name[0].lower()}{name[1:]} ({hours:,.0f})."
    if not found.winters:
        return f"{what}: not yet."
    if found.earliest is None or found.latest is None:
        return f"{what}: not by {short_day(outlook.latest.last, today)}, as past winters went."
    return f"{what} likely {day_range(found.earliest, found.latest, today)}."


def stale_words(series: WeatherSeries, today: date) -> str:
    """Return since when nothing was observed, once that is days ago; else nothing."""
    last = firm_until(series, today)
    if last < series.start or (today - last).days <= STALE_DAYS:
        return ""
    return (
        f"Nothing was observed here since {short_day(last, today)}. "
        "What follows from there on is likely, not known."
    )
