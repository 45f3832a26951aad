"""The season: winter chill and rains of a site, so far and in other years."""

from dataclasses import dataclass

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from care.facts import RainState
from care.planning.gather import site_facts
from care.planning.rains import rains_of, soaking_rain
from care.planning.weather_days import read_weather, weather_series
from care.planning.winter import Winter, winter_outlook
from care.views.rain_words import rains_words, soaking_words
from care.views.winter_words import chill_words, portions_words, winter_name
from orchard.views.site_page import let_in


@dataclass(frozen=True, slots=True)
class WinterRow:
    """One past winter of the table."""

    name: str
    hours: str
    portions: str


@require_safe
@login_required
def season(request: HttpRequest, site: str) -> HttpResponse:
    """Show the chill of this winter and of those on record, and the rains."""
    page = let_in(request, site)
    series = weather_series(read_weather(page.site, page.today), page.today)
    if series is None:
        return render(request, "care/season.html", page.context("weather"))
    chill = winter_outlook(series, site_facts(page.site), page.today)
    rains = rains_of(series, page.today)
    has_season = rains.state in (RainState.AWAITED, RainState.SET_IN, RainState.ENDED)
    context = page.context(
        "weather",
        is_known=True,
        winter=chill.latest,
        chill=chill_words(chill, page.today),
        past=[_row(winter) for winter in _told_winters(chill.latest, chill.past)],
        left_out=chill.left_out,
        rains=rains_words(rains, page.today),
        onset_rule=rains.onset_rule if has_season else None,
        end_rule=rains.end_rule,
        soaking=soaking_words(soaking_rain(series, page.today), page.units),
    )
    return render(request, "care/season.html", context)


def _told_winters(latest: Winter, past: tuple[Winter, ...]) -> tuple[Winter, ...]:
    """Return the winters that are over and were observed, newest first."""
    is_whole = latest.is_over and latest.is_observed
    return (latest, *past) if is_whole else past


def _row(winter: Winter) -> WinterRow:
    middle = (winter.chill.hours_low + winter.chill.hours_high) / 2
    return WinterRow(
        name=winter_name(winter),
        hours=f"{round(middle, -1):,.0f}",
        portions=portions_words(winter.chill),
    )
