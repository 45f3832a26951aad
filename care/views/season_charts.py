"""The drawings of the season's page: this year beside others, with what they mean."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from care.charts.fan_chart import FanChart, Measure, Need, fan_chart
from care.charts.frost_strip import FrostStrip, frost_strip
from care.facts import SiteFacts, WeatherSeries
from care.planning.ensemble import Fan, Members
from care.planning.frost_outlook import FrostOutlook
from care.planning.frost_weeks import frost_weeks
from care.planning.past_seasons import PastSeasons
from care.planning.rain_year import RainYear
from care.planning.warmth import BASE_C
from care.views.chill_need_words import SpeciesNeed
from care.views.days import short_day
from care.views.frost_words import FREEZE_WORDS
from care.views.likely_words import members_words
from care.views.warmth_words import F_PER_C
from orchard.units import Quantity, UnitSystem, format_temperature, from_si, unit_label

CHILL = Measure("hours of chill")


@dataclass(frozen=True, slots=True)
class FanFigure:
    """A drawing of a season, its title, and how to read it."""

    key: str
    title: str
    chart: FanChart
    caption: str


@dataclass(frozen=True, slots=True)
class FrostFigure:
    """A drawing of one bound of frost; ``is_first`` is the one shown unfolded."""

    key: str
    name: str
    title: str
    chart: FrostStrip
    caption: str
    is_first: bool


def chill_figure(
    fan: Fan, past: PastSeasons, needs: Sequence[SpeciesNeed], today: date
) -> FanFigure | None:
    """Return this winter's chill beside past winters and what the trees ask for.

    ``None`` where nobody observed any of it and no course tells how it may go on.
    """
    if not _says_something(fan):
        return None
    chart = fan_chart(fan, past, CHILL, today, [_need(each) for each in needs])
    since = short_day(fan.start, today)
    return FanFigure(
        key="chill",
        title=f"Hours of chill since {since} beside past winters",
        chart=chart,
        caption=_caption(fan, past, "winter", today),
    )


def warmth_figure(
    fan: Fan, past: PastSeasons, today: date, units: UnitSystem
) -> FanFigure | None:
    """Return this year's warmth beside past years; ``None`` as of chill."""
    if not _says_something(fan):
        return None
    base = format_temperature(BASE_C, units)
    factor = F_PER_C if units is UnitSystem.US else 1.0
    measure = Measure(f"degree days above {base}", factor)
    since = short_day(fan.start, today)
    return FanFigure(
        key="warmth",
        title=f"Degree days above {base} since {since} beside past years",
        chart=fan_chart(fan, past, measure, today),
        caption=_caption(fan, past, "year", today),
    )


def rain_figure(year: RainYear, today: date, units: UnitSystem) -> FanFigure | None:
    """Return this year's rain beside past years; ``None`` as of chill."""
    if year.fan is None or not _says_something(year.fan):
        return None
    step = 0.1 if units is UnitSystem.US else 1.0
    factor = from_si(1.0, Quantity.DEPTH, units)
    measure = Measure(
        f"{unit_label(Quantity.DEPTH, units)} of rain", factor=factor, step=step
    )
    return FanFigure(
        key="rain",
        title=f"Rain since {short_day(year.start, today)} beside past years",
        chart=fan_chart(year.fan, year.past, measure, today),
        caption=_caption(year.fan, year.past, "year", today),
    )


def frost_figures(
    outlook: FrostOutlook,
    series: WeatherSeries,
    site: SiteFacts,
    today: date,
    units: UnitSystem,
) -> list[FrostFigure]:
    """Return a drawing for each bound that the record has seen, the freeze first."""
    found = []
    for dates in sorted(outlook.dates, key=lambda one: one is not outlook.freeze):
        if not dates.was_seen:
            continue
        chart = frost_strip(frost_weeks(series, site, today, dates), dates, today)
        bound = format_temperature(dates.threshold_c, units)
        name = f"{FREEZE_WORDS[dates.word]}, {bound} or colder"
        found.append(
            FrostFigure(
                key=dates.word.value,
                name=name,
                title=f"Share of years with a night of {bound} or colder, by week",
                chart=chart,
                caption=_frost_caption(chart, is_told=dates.is_told),
                is_first=dates is outlook.freeze,
            )
        )
    return found


def _says_something(fan: Fan) -> bool:
    return fan.members.count > 0 or fan.firm_until >= fan.start


def _frost_caption(chart: FrostStrip, *, is_told: bool) -> str:
    bars = f"Bars: how many of {chart.years} years had such a night in that week."
    if chart.years == 1:
        bars = "Bars: the weeks with such a night, of the one year on record."
    if not chart.spans:
        return bars
    if is_told:
        return (
            f"{bars} Lines: such nights come this early, and this late, in 1 year of "
            "10, in half of the years, and in 9 of 10."
        )
    return (
        f"{bars} Line: from the earliest such night of autumn to the latest of spring "
        "that was seen."
    )


def _need(need: SpeciesNeed) -> Need:
    """Return a need with as short a name as a drawing has room for."""
    which = need.which.removeprefix("need ")
    name = need.kind
    return Need(f"{name}, {which}" if which else name, need.hours)


def _caption(fan: Fan, past: PastSeasons, season: str, today: date) -> str:
    """Return how to read a fan, naming only what is drawn."""
    words = []
    if past.is_fair:
        words.append(f"Shaded: 8 of 10 past {season}s.")
    elif past.count:
        seasons = (
            f"{season} before" if past.count == 1 else f"{past.count} {season}s before"
        )
        words.append(f"Thin: the {seasons}.")
    if fan.firm_until >= fan.start:
        is_forecast = today <= fan.firm_until < fan.end
        forecast = ", from today on forecast" if is_forecast else ""
        words.append(f"Bold: observed{forecast}.")
    if fan.firm_until < fan.end:
        words.append(_likely(fan.members))
    return " ".join(words)


def _likely(members: Members) -> str:
    if not members.count:
        return "Dashed: the usual weather standing in."
    if members.count == 1:
        return "Dashed: as it then went on, which is no more than a hint."
    are_few = members.is_coarse and not members.is_generated
    dotted = "the least and the most" if are_few else "8 of 10 lie between"
    return f"Dashed: likely; dotted: {dotted}, {members_words(members)}."
