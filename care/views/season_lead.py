"""What matters of the season first, in a sentence or two each."""

from collections.abc import Sequence
from datetime import date

from django.utils.translation import gettext

from care.facts import WeatherSeries
from care.planning.chill_needs import need_outlook
from care.planning.ensemble import ChillAhead
from care.planning.past_seasons import firm_until, usual_hours_by_now
from care.planning.winter import WinterOutlook
from care.views.chill_need_words import SpeciesNeed
from care.views.days import short_day
from care.views.likely_words import capitalised, likely_day_words
from care.views.winter_words import chill_words, hours_words, round_hours
from orchard.languages import whole

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
    when = gettext("last winter") if winter.is_over else gettext("so far")
    hours = hours_words(winter.chill)
    said = (
        f"{hours} {when}"
        if winter.observed_days
        else gettext("likely {hours} {when}").format(hours=hours, when=when)
    )
    if not matters(outlook, needs, ahead):
        return gettext(
            "Too little to matter: {said}, and none of your trees asks for any."
        ).format(said=said)
    words = f"{capitalised(said)}{_beside_usual(outlook)}."
    return f"{words} {_next(outlook, needs, ahead, today)}".strip()


def _beside_usual(outlook: WinterOutlook) -> str:
    usual = usual_hours_by_now(outlook)
    if usual is None or not outlook.latest.days:
        return ""
    hours, is_one = round_hours(usual), len(outlook.past) == 1
    if outlook.latest.is_over:
        if is_one:
            return gettext("; the winter before had {hours}").format(hours=hours)
        return gettext("; a usual winter has {hours}").format(hours=hours)
    if is_one:
        return gettext("; the winter before had {hours} by now").format(hours=hours)
    return gettext("; a usual winter has {hours} by now").format(hours=hours)


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
        return gettext("Enough for all your trees.")
    need = min(unmet, key=lambda each: (each.hours, each.name))
    name, hours = f"{need.name[0].lower()}{need.name[1:]}", whole(need.hours)
    if outlook.latest.is_over:
        return gettext("Not enough for {name} ({hours}).").format(
            name=name, hours=hours
        )
    likely = None if ahead is None else ahead.enough.get(need.hours)
    if likely is None:
        return gettext("Enough for {name} ({hours}): not yet.").format(
            name=name, hours=hours
        )
    day = likely_day_words(likely, today, since="since")
    return gettext("Enough for {name} ({hours}): {day}.").format(
        name=name, hours=hours, day=day
    )


def stale_words(series: WeatherSeries, today: date) -> str:
    """Return since when nothing was observed, once that is days ago; else nothing."""
    last = firm_until(series, today)
    if last < series.start or (today - last).days <= STALE_DAYS:
        return ""
    return gettext(
        "Nothing was observed here since {last}. What follows from there on is "
        "likely, not known."
    ).format(last=short_day(last, today))
