"""Pruning: when, how much of the crown at most, and when to wait."""

from dataclasses import dataclass
from datetime import date, timedelta

from care.facts import Origin, SiteFacts, SpeciesFacts, WeatherSeries
from care.science.season import (
    Window,
    is_tender,
    last_frost_in,
    month_runs,
    month_window,
    next_on,
    season_date,
)

CROWN_SHARE_LIMIT = 0.25  # ANSI A300 (1995) 5.3.1: a quarter of the foliage a season
FROST_LEAD_DAYS = 56  # citrus and tropicals: four to eight weeks before a freeze
HARDY_HOLD_C = -12.0  # common practice, no source: an exceptional low for hardy trees
TENDER_HOLD_C = 0.0
FORECAST_DAYS = 16  # no forecast reaches further
HEAT_HOLD_C = 37.8  # 100 degF (UC Master Gardeners)


@dataclass(frozen=True, slots=True)
class CrownLimit:
    """How much may go in one season.

    ``share`` of the crown, or ``None`` where the crop is renewed by a rule of its
    own: ``fruiting_shoots`` (peach), ``vine``, ``canes``, ``stems`` (banana).
    """

    share: float | None
    own_rule: str = ""


def crown_limit(species: SpeciesFacts) -> CrownLimit:
    """Return the limit of one species for a season.

    A quarter of the crown (ANSI A300-1995; UF/IFAS Miami-Dade for tropical fruit);
    peaches fruit on last year's shoots and take harder dormant pruning (UF/IFAS),
    vines, canes and banana stems are renewed.
    """
    if species.key in ("peach", "nectarine"):
        return CrownLimit(None, "fruiting_shoots")
    if species.prune_system == "pup_selection":
        return CrownLimit(None, "stems")
    if species.habit == "vine":
        return CrownLimit(None, "vine")
    if "cane" in species.prune_system or species.prune_system == "spur":
        return CrownLimit(None, "canes")
    return CrownLimit(CROWN_SHARE_LIMIT)


def pruning_windows(
    season: int, species: SpeciesFacts, site: SiteFacts
) -> tuple[Window, ...]:
    """Return the windows of one season, in the order of the care year.

    One an unbroken run of the catalogue's months, shifted by half a year in the
    south. Frost-tender plants wait for the last frost and stop eight weeks before the
    first; a window that the wait empties moves behind it, its length kept.
    """
    windows = (
        month_window(season, first, last, southern=site.is_southern)
        for first, last in month_runs(species.prune_months)
    )
    if not is_tender(species):
        return tuple(windows)
    return tuple(_after_frost(window, season, site) for window in windows)


def _after_frost(window: Window, season: int, site: SiteFacts) -> Window:
    frost = last_frost_in(season, site)
    if frost is None:
        return window
    start, end = window.start, window.end
    if start <= frost:
        start = frost + timedelta(days=1)
        end = max(end, start + (window.end - window.start))
        end = min(end, season_date(season, 10, 31, southern=site.is_southern))
    if site.first_frost is not None:
        stop = next_on(site.first_frost, frost) - timedelta(days=FROST_LEAD_DAYS)
        end = min(end, stop)
    return Window(min(start, end), end)


def hold_until(
    series: WeatherSeries | None, today: date, species: SpeciesFacts
) -> tuple[date, str] | None:
    """Return the first day after forecast severe cold or heat, and which it is.

    Tender plants wait at any forecast frost, hardy ones only at exceptional lows;
    all wait at 100 degF.

    Returns
    -------
    tuple of datetime.date and str, or None
        ``cold`` or ``heat``; ``None`` where no forecast day asks to wait.
    """
    if series is None:
        return None
    limit = TENDER_HOLD_C if is_tender(species) else HARDY_HOLD_C
    held: tuple[date, str] | None = None
    for ahead in range(FORECAST_DAYS):
        day = today + timedelta(days=ahead)
        if not series.covers(day) or series.origin_on(day) is Origin.NORMAL:
            continue
        at = series.index(day)
        # A gap compares as false either way.
        if series.tmin_c[at] <= limit:
            held = day + timedelta(days=1), "cold"
        elif series.tmax_c[at] >= HEAT_HOLD_C:
            held = day + timedelta(days=1), "heat"
    return held
