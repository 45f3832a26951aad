"""The drawings of the season's page: this year beside others, with what they mean."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext, gettext_noop, pgettext_lazy

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

#: How each season's past is told: many, one, several.
SHADED = {
    "winter": gettext_noop("Shaded: 8 of 10 past winters."),
    "year": gettext_noop("Shaded: 8 of 10 past years."),
}
ONE_BEFORE = {
    "winter": gettext_noop("Thin: the winter before."),
    "year": gettext_noop("Thin: the year before."),
}
SEVERAL_BEFORE = {
    "winter": gettext_noop("Thin: the {number} winters before."),
    "year": gettext_noop("Thin: the {number} years before."),
}
SHORT_NEEDS = {
    "need least": pgettext_lazy("of cultivars' needs", "least"),
    "need most": pgettext_lazy("of cultivars' needs", "most"),
}


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
    measure = Measure(gettext("hours of chill"))
    chart = fan_chart(fan, past, measure, today, [_need(each) for each in needs])
    since = short_day(fan.start, today)
    return FanFigure(
        key="chill",
        title=gettext("Hours of chill since {since} beside past winters").format(
            since=since
        ),
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
    measure = Measure(gettext("degree days above {base}").format(base=base), factor)
    since = short_day(fan.start, today)
    return FanFigure(
        key="warmth",
        title=gettext(
            "Degree days above {base} since {since} beside past years"
        ).format(base=base, since=since),
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
        gettext("{unit} of rain").format(unit=unit_label(Quantity.DEPTH, units)),
        factor=factor,
        step=step,
    )
    return FanFigure(
        key="rain",
        title=gettext("Rain since {start} beside past years").format(
            start=short_day(year.start, today)
        ),
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
        word = gettext(FREEZE_WORDS[dates.word])
        name = gettext("{word}, {bound} or colder").format(word=word, bound=bound)
        found.append(
            FrostFigure(
                key=dates.word.value,
                name=name,
                title=gettext(
                    "Share of years with a night of {bound} or colder, by week"
                ).format(bound=bound),
                chart=chart,
                caption=_frost_caption(chart, is_told=dates.is_told),
                is_first=dates is outlook.freeze,
            )
        )
    return found


def _says_something(fan: Fan) -> bool:
    return fan.members.count > 0 or fan.firm_until >= fan.start


def _frost_caption(chart: FrostStrip, *, is_told: bool) -> str:
    bars = gettext(
        "Bars: how many of {years} years had such a night in that week."
    ).format(years=chart.years)
    if chart.years == 1:
        bars = gettext("Bars: the weeks with such a night, of the one year on record.")
    if not chart.spans:
        return bars
    if is_told:
        return gettext(
            "{bars} Lines: such nights come this early, and this late, in 1 year of "
            "10, in half of the years, and in 9 of 10."
        ).format(bars=bars)
    return gettext(
        "{bars} Line: from the earliest such night of autumn to the latest of "
        "spring that was seen."
    ).format(bars=bars)


def _need(need: SpeciesNeed) -> Need:
    """Return a need with as short a name as a drawing has room for."""
    which = SHORT_NEEDS.get(need.which, "")
    name = need.kind
    return Need(f"{name}, {which}" if which else name, need.hours)


def _caption(fan: Fan, past: PastSeasons, season: str, today: date) -> str:
    """Return how to read a fan, naming only what is drawn."""
    words = []
    if past.is_fair:
        words.append(gettext(SHADED[season]))
    elif past.count == 1:
        words.append(gettext(ONE_BEFORE[season]))
    elif past.count:
        words.append(gettext(SEVERAL_BEFORE[season]).format(number=past.count))
    if fan.firm_until >= fan.start:
        is_forecast = today <= fan.firm_until < fan.end
        words.append(
            gettext("Bold: observed, from today on forecast.")
            if is_forecast
            else gettext("Bold: observed.")
        )
    if fan.firm_until < fan.end:
        words.append(_likely(fan.members))
    return " ".join(words)


def _likely(members: Members) -> str:
    if not members.count:
        return gettext("Dashed: the usual weather standing in.")
    if members.count == 1:
        return gettext("Dashed: as it then went on, which is no more than a hint.")
    are_few = members.is_coarse and not members.is_generated
    if are_few:
        return gettext(
            "Dashed: likely; dotted: the least and the most, {members}."
        ).format(members=members_words(members))
    return gettext("Dashed: likely; dotted: 8 of 10 lie between, {members}.").format(
        members=members_words(members)
    )
