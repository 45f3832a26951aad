"""The season: chill, rains and stages of a site's year, so far and in other years."""

from dataclasses import dataclass

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from care.facts import RainState, WeatherSeries
from care.planning.frost_outlook import freeze_notices, frost_outlook
from care.planning.gather import Records, gather
from care.planning.moist_months import moist_months
from care.planning.other_counts import other_counts
from care.planning.past_seasons import past_winters, winter_fan
from care.planning.rain_lately import rain_lately
from care.planning.rain_year import rain_year
from care.planning.rains import rains_of, soaking_rain
from care.planning.stages_by_species import stages_by_species
from care.planning.warmth import warmth_seasons, years_warmth
from care.planning.weather_days import CLIMATE_YEARS_BACK, read_weather, weather_series
from care.planning.winter import Winter, WinterOutlook, winter_outlook
from care.views.chill_need_words import need_rows, needs_of
from care.views.frost_words import frost_section
from care.views.other_count_words import other_count_words
from care.views.rain_words import (
    lately_words,
    moist_words,
    rain_year_words,
    rains_notice,
    rains_words,
    soaking_words,
)
from care.views.season_charts import (
    chill_figure,
    frost_figures,
    rain_figure,
    warmth_figure,
)
from care.views.season_lead import chill_lead, matters, stale_words
from care.views.warmth_words import warmth_words
from care.views.winter_words import (
    chill_words,
    portions_words,
    span_words,
    units_words,
    winter_name,
)
from care.views.year_words import SHOWN, stage_rows
from orchard.units import UnitSystem
from orchard.views.site_page import let_in

NAMES = {
    "chill": "Winter chill",
    "frost": "Frost",
    "warmth": "Warmth",
    "rain": "Rain",
}


@dataclass(frozen=True, slots=True)
class WinterRow:
    """One past winter of the table."""

    name: str
    hours: str
    portions: str
    units: str


@require_safe
@login_required
def season(request: HttpRequest, site: str) -> HttpResponse:
    """Show chill, warmth, rain and frost of this year beside others, and stages."""
    page = let_in(request, site)
    records = gather(page.site, page.today)
    series = records.weather
    if series is None:
        return render(request, "care/season.html", page.context("weather"))
    readings = read_weather(page.site, page.today, CLIMATE_YEARS_BACK)
    record = weather_series(readings, page.today) or series
    chill = winter_outlook(series, records.site, page.today)
    told = {
        **_chill(records, series, chill),
        **_warmth(records, record, page.units),
        **_frost(records, series, record, page.units),
        **_rain(series, record, records, page.units),
    }
    parts = _order(chill.latest)
    context = page.context(
        "weather",
        is_known=True,
        stale=stale_words(series, page.today),
        **told,
        now=[(NAMES[part], told[f"{part}_lead"]) for part in parts],
        parts=parts,
        stages=stage_rows(stages_by_species(records), page.today),
        stage_names=("Species", *SHOWN.values()),
        other=other_count_words(
            other_counts(series, records.site, page.today), page.today, page.units
        ),
        moist=moist_words(moist_months(records.site, series)),
    )
    return render(request, "care/season.html", context)


def _order(winter: Winter) -> tuple[str, ...]:
    """Return what matters first: cold in winter, warmth and rain from spring on."""
    cold, growth = ("chill", "frost"), ("warmth", "rain")
    return (*growth, *reversed(cold)) if winter.is_over else (*cold, *growth)


def _chill(
    records: Records, series: WeatherSeries, outlook: WinterOutlook
) -> dict[str, object]:
    """Return what the page tells of chill; little of it is not worth a drawing."""
    today = records.today
    species = [tree.species.key for tree in records.trees]
    past, fan = past_winters(outlook), winter_fan(outlook, series, today)
    needs = needs_of(species)
    is_told = matters(outlook, needs)
    return {
        "winter": outlook.latest,
        "chill": chill_words(outlook, today) if is_told else "",
        "chill_lead": chill_lead(outlook, past, needs, today),
        "chill_figure": chill_figure(fan, past, needs, today) if is_told else None,
        "needs": need_rows(outlook, species, today),
        "past": [
            _row(winter) for winter in _told_winters(outlook.latest, outlook.past)
        ],
        "left_out": outlook.left_out,
    }


def _warmth(
    records: Records, record: WeatherSeries, units: UnitSystem
) -> dict[str, object]:
    today, southern = records.today, records.site.is_southern
    seasons = warmth_seasons(record, today, southern=southern)
    return {
        "warmth_lead": warmth_words(
            years_warmth(record, today, southern=southern), today, units
        ),
        "warmth_figure": seasons and warmth_figure(*seasons, today, units),
    }


def _frost(
    records: Records, series: WeatherSeries, record: WeatherSeries, units: UnitSystem
) -> dict[str, object]:
    site, today = records.site, records.today
    outlook = frost_outlook(record, site, today)
    notices = freeze_notices(series, site, today)
    section = frost_section(site, outlook, notices, today, units)
    return {
        "frost": section,
        "frost_lead": section.dates,
        "frost_figures": frost_figures(outlook, record, site, today, units),
    }


def _rain(
    series: WeatherSeries, record: WeatherSeries, records: Records, units: UnitSystem
) -> dict[str, object]:
    """Return what the page tells of rain; what is usual by many more years."""
    today = records.today
    rains = rains_of(series, today)
    has_season = rains.state in (RainState.AWAITED, RainState.SET_IN, RainState.ENDED)
    lately = rain_lately(record, today)
    year = rain_year(record, today, southern=records.site.is_southern)
    return {
        "rain_lead": rain_year_words(year, today, units),
        "rain_figure": rain_figure(year, today, units),
        "rains": rains_words(rains, today),
        "rains_notice": rains_notice(rains, today),
        "onset_rule": rains.onset_rule if has_season else None,
        "end_rule": rains.end_rule,
        "soaking": soaking_words(soaking_rain(series, today), units),
        "lately": [(one.days, lately_words(one, units)) for one in lately],
        "has_index": any(one.index is not None for one in lately),
    }


def _told_winters(latest: Winter, past: tuple[Winter, ...]) -> tuple[Winter, ...]:
    """Return the winters that are over and were observed, newest first."""
    is_whole = latest.is_over and latest.is_observed
    return (latest, *past) if is_whole else past


def _row(winter: Winter) -> WinterRow:
    return WinterRow(
        name=winter_name(winter),
        hours=span_words(winter.chill.hours_low, winter.chill.hours_high),
        portions=portions_words(winter.chill),
        units=units_words(winter.chill),
    )
