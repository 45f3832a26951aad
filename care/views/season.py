"""The season: chill, rains and stages of a site's year, so far and in other years."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext, gettext_noop
from django.views.decorators.http import require_safe

from care.facts import RainState, WeatherSeries
from care.planning.cold_by_species import cold_by_species
from care.planning.ensemble import ChillAhead, FrostAhead, HeatAhead
from care.planning.frost_outlook import freeze_notices, frost_outlook
from care.planning.gather import Records, gather
from care.planning.moist_months import moist_months
from care.planning.other_counts import other_counts
from care.planning.past_seasons import past_winters, whole_winter
from care.planning.rain_lately import rain_lately
from care.planning.rain_year import rain_year
from care.planning.rains import rains_of, soaking_rain
from care.planning.season_ahead import season_ahead
from care.planning.stages_by_species import stages_by_species
from care.planning.warmth import past_warmth, years_warmth
from care.planning.weather_days import CLIMATE_YEARS_BACK, read_weather, weather_series
from care.planning.winter import Winter, WinterOutlook, winter_outlook
from care.views.chill_need_words import SpeciesNeed, need_rows, needs_of
from care.views.frost_words import frost_section
from care.views.other_count_words import other_count_words
from care.views.rain_notice import rain_notice
from care.views.rain_words import (
    lately_words,
    moist_words,
    rain_year_words,
    rains_words,
    soaking_words,
)
from care.views.season_ahead_words import (
    ahead_rows,
    bloom_lead,
    cold_rows,
    courses_words,
    frost_ahead_words,
    hot_days_words,
    mildness_words,
    winter_ahead_words,
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

FEW_SPECIES = 4  # that stand unfolded
NAMES = {
    "chill": gettext_noop("Winter chill"),
    "frost": gettext_noop("Frost"),
    "warmth": gettext_noop("Warmth"),
    "rain": gettext_noop("Rain"),
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
    needs = needs_of(tree.species for tree in records.trees)
    ahead = season_ahead(records, [need.hours for need in needs])
    told = {
        **_chill(records, chill, needs, ahead.chill),
        **_warmth(records, record, ahead.heat, page.units),
        **_frost(records, record, ahead.frost, page.units),
        **_rain(records, record, page.units),
    }
    parts, rows = _order(chill.latest), ahead_rows(ahead.stages, page.today)
    context = page.context(
        "weather",
        is_known=True,
        stale=stale_words(series, page.today),
        rains_notice=rain_notice(page.site, series, page.today),
        **told,
        now=_now(parts, told, bloom_lead(ahead.stages, page.today)),
        ahead=rows,
        are_few=len(rows) <= FEW_SPECIES,
        courses=courses_words(ahead.members),
        parts=parts,
        stages=stage_rows(stages_by_species(records), page.today),
        stage_names=(gettext("Species"), *map(gettext, SHOWN.values())),
        other=other_count_words(
            other_counts(series, records.site, page.today), page.today, page.units
        ),
        moist=moist_words(moist_months(records.site, series)),
    )
    return render(request, "care/season.html", context)


def _now(
    parts: Sequence[str], told: Mapping[str, object], bloom: str
) -> list[tuple[str, object]]:
    """Return what is told first, bloom foremost of it in spring."""
    rows = [(gettext(NAMES[part]), told[f"{part}_lead"]) for part in parts]
    if bloom:
        rows.insert(2, (gettext("Bloom"), bloom))
    return rows


def _order(winter: Winter) -> tuple[str, ...]:
    """Return what matters first: cold in winter, warmth and rain from spring on."""
    cold, growth = ("chill", "frost"), ("warmth", "rain")
    return (*growth, *reversed(cold)) if winter.is_over else (*cold, *growth)


def _chill(
    records: Records,
    outlook: WinterOutlook,
    needs: list[SpeciesNeed],
    ahead: ChillAhead | None,
) -> dict[str, object]:
    """Return what the page tells of chill; little of it is not worth a drawing."""
    today, past = records.today, past_winters(outlook)
    if ahead is not None and ahead.hours_fan.start != outlook.latest.first:
        ahead = None  # the next winter, while the page still tells of the last
    fan = whole_winter(outlook) if ahead is None else ahead.hours_fan
    enough = {} if ahead is None else ahead.enough
    # Too few known days make no line.
    is_told = matters(outlook, needs, ahead) and outlook.latest.is_told
    figure = chill_figure(fan, past, needs, today) if is_told else None
    words = f"{chill_words(outlook, today)} {winter_ahead_words(ahead, today)}".strip()
    return {
        "winter": outlook.latest,
        "chill": words if is_told else "",
        "chill_lead": chill_lead(outlook, needs, ahead, today),
        "chill_figure": figure,
        "needs": need_rows(outlook, needs, enough, today),
        "past": [
            _row(winter) for winter in _told_winters(outlook.latest, outlook.past)
        ],
        "left_out": outlook.left_out,
    }


def _warmth(
    records: Records, record: WeatherSeries, ahead: HeatAhead | None, units: UnitSystem
) -> dict[str, object]:
    today, southern = records.today, records.site.is_southern
    year = years_warmth(record, today, southern=southern)
    figure = None
    if ahead is not None and (year is None or year.degree_days is not None):
        fan = ahead.degree_days_fan
        figure = warmth_figure(fan, past_warmth(record, fan.start), today, units)
    words = warmth_words(year, today, units)
    return {
        "warmth_lead": f"{words} {hot_days_words(ahead, today, units)}".strip(),
        "warmth_figure": figure,
    }


def _frost(
    records: Records, record: WeatherSeries, ahead: FrostAhead | None, units: UnitSystem
) -> dict[str, object]:
    site, today, series = records.site, records.today, records.weather
    outlook = frost_outlook(record, site, today)
    notices = () if series is None else freeze_notices(series, site, today)
    section = frost_section(site, outlook, notices, today, units)
    return {
        "frost": section,
        "frost_lead": f"{frost_ahead_words(ahead, today)} {section.dates}".strip(),
        "frost_mildness": mildness_words(ahead),
        "cold": cold_rows(cold_by_species(records), today, units),
        "frost_figures": frost_figures(outlook, record, site, today, units),
    }


def _rain(
    records: Records, record: WeatherSeries, units: UnitSystem
) -> dict[str, object]:
    """Return what the page tells of rain; what is usual by many more years."""
    today, series = records.today, records.weather or record
    rains = rains_of(series, today)
    has_season = rains.state in (RainState.AWAITED, RainState.SET_IN, RainState.ENDED)
    lately = rain_lately(record, today)
    year = rain_year(record, records.site, today)
    return {
        "rain_lead": rain_year_words(year, today, units),
        "rain_figure": rain_figure(year, today, units),
        "rain_since": year.start,
        "rains": rains_words(rains, today),
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
