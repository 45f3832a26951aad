"""The season: chill, rains and stages of a site's year, so far and in other years."""

from dataclasses import dataclass
from datetime import date

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from care.facts import RainState, WeatherSeries
from care.planning.frost_outlook import freeze_notices, frost_outlook
from care.planning.gather import gather
from care.planning.moist_months import moist_months
from care.planning.other_counts import other_counts
from care.planning.rain_lately import rain_lately
from care.planning.rains import rains_of, soaking_rain
from care.planning.stages_by_species import stages_by_species
from care.planning.warmth import years_warmth
from care.planning.weather_days import CLIMATE_YEARS_BACK, read_weather, weather_series
from care.planning.winter import Winter, winter_outlook
from care.views.chill_need_words import need_rows
from care.views.frost_words import frost_section
from care.views.other_count_words import other_count_words
from care.views.rain_words import (
    lately_words,
    moist_words,
    rains_notice,
    rains_words,
    soaking_words,
)
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
    """Show the chill of this winter and of those on record, and the rains."""
    page = let_in(request, site)
    records = gather(page.site, page.today)
    series = records.weather
    if series is None:
        return render(request, "care/season.html", page.context("weather"))
    chill = winter_outlook(series, records.site, page.today)
    species = [tree.species.key for tree in records.trees]
    readings = read_weather(page.site, page.today, CLIMATE_YEARS_BACK)
    record = weather_series(readings, page.today) or series
    context = page.context(
        "weather",
        is_known=True,
        winter=chill.latest,
        chill=chill_words(chill, page.today),
        needs=need_rows(chill, species, page.today),
        past=[_row(winter) for winter in _told_winters(chill.latest, chill.past)],
        left_out=chill.left_out,
        warmth=warmth_words(
            years_warmth(record, page.today, southern=records.site.is_southern),
            page.today,
            page.units,
        ),
        stages=stage_rows(stages_by_species(records), page.today),
        stage_names=("Species", *SHOWN.values()),
        frost=frost_section(
            records.site,
            frost_outlook(record, records.site, page.today),
            freeze_notices(series, records.site, page.today),
            page.today,
            page.units,
        ),
        other=other_count_words(
            other_counts(series, records.site, page.today), page.today, page.units
        ),
        moist=moist_words(moist_months(records.site, series)),
        **_rain(series, record, page.today, page.units),
    )
    return render(request, "care/season.html", context)


def _rain(
    series: WeatherSeries, record: WeatherSeries, today: date, units: UnitSystem
) -> dict[str, object]:
    """Return what the page tells of rain; what is usual by many more years."""
    rains = rains_of(series, today)
    has_season = rains.state in (RainState.AWAITED, RainState.SET_IN, RainState.ENDED)
    lately = rain_lately(record, today)
    return {
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
