"""What matters of the season first, in a sentence or two each."""

from collections.abc import Sequence
from datetime import date

from care.facts import WeatherSeries
from care.planning.chill_needs import need_outlook
from care.planning.ensemble import ChillAhead
from care.planning.past_seasons import firm_until, usual_hours_by_now
from care.planning.winter import WinterOutlook
from care.views.chill_need_words import SpeciesNeed
from care.views.days import short_day
from care.views.likely_words import capitalised, likely_day_words
from care.views.winter_words import chill_words, hours_words, round_hours

STALE_DAYS = 3  # as on the round
LITTLE_HOURS = 100.0  # below it only trees that ask for chill need hear of it; ours


def matters(
    outlook: WinterOutlook, needs: Sequence[SpeciesNeed], ahead: ChillAhead | None
) -> bool:
    """Whether chill is worth telling: there is some, or a tree here asks for it."""
    winters = (outlook.latest, *outlook.past)
    most = max(winter.chill.hours_high for winter in winters)
    likely = 0.0 if ahead is None else ahead.hours.high
    return bool(needs) or max(most, likely) >= LITTLE_HOURS


def chill_lead(
    outlook: WinterOutlook,
    needs: Sequence[SpeciesNeed],
    ahead: ChillAhead | None,
    today: date,
) -> str:
    """Return chill so far, what is usual by now, and the next need that is met.

    Parameters
    ----------
    outlook : WinterOutlook
    needs : sequence of SpeciesNeed
        Of the orchard's own trees.
    ahead : ChillAhead or None
        Of the same winter; ``None`` where nothing tells.
    today : datetime.date
    """
    winter = outlook.latest
    if not winter.is_told:
        return chill_words(outlook, today)
    when = "last winter" if winter.is_over else "so far"
    sure = "" if winter.observed_days else "likely "
    said = f"{sure}{hours_words(winter.chill)} {when}"
    if not matters(outlook, needs, ahead):
        return f"Too little to matter: {said}, and none of your trees asks for any."
    words = f"{capitalised(said)}{_beside_usual(outlook)}."
    return f"{words} {_next(outlook, needs, ahead, today)}".strip()


def _beside_usual(outlook: WinterOutlook) -> str:
    usual = usual_hours_by_now(outlook)
    if usual is None or not outlook.latest.days:
        return ""
    by_now = "" if outlook.latest.is_over else " by now"
    before = "the winter before" if len(outlook.past) == 1 else "a usual winter"
    verb = "had" if len(outlook.past) == 1 else "has"
    return f"; {before} {verb} {round_hours(usual)}{by_now}"


def _next(
    outlook: WinterOutlook,
    needs: Sequence[SpeciesNeed],
    ahead: ChillAhead | None,
    today: date,
) -> str:
    """Return when the next need is met, or how all of them stand."""
    unmet = [
        need for need in needs if need_outlook(outlook, need.hours).met_surely is None
    ]
    if not needs:
        return ""
    if not unmet:
        return "Enough for all your trees."
    need = min(unmet, key=lambda each: (each.hours, each.name))
    what = f"nough for {need.name[0].lower()}{need.name[1:]} ({need.hours:,.0f})"
    if outlook.latest.is_over:
        return f"Not e{what}."
    likely = None if ahead is None else ahead.enough.get(need.hours)
    if likely is None:
        return f"E{what}: not yet."
    return f"E{what}: {likely_day_words(likely, today, since='since')}."


def stale_words(series: WeatherSeries, today: date) -> str:
    """Return since when nothing was observed, once that is days ago; else nothing."""
    last = firm_until(series, today)
    if last < series.start or (today - last).days <= STALE_DAYS:
        return ""
    return (
        f"Nothing was observed here since {short_day(last, today)}. "
        "What follows from there on is likely, not known."
    )
