"""A site's frosts, coldest nights and hot days in words."""

from dataclasses import dataclass
from datetime import date

from care.facts import MonthDay, SiteFacts
from care.planning.frost_outlook import (
    ENOUGH_YEARS,
    MAP_YEARS,
    FreezeDates,
    FreezeNotice,
    FrostOutlook,
)
from care.views.days import DASH, day_words
from orchard.units import UnitSystem, format_temperature

COMMON_YEAR = 2001
FREEZE_WORDS = {
    "frost": "Frost",
    "freeze": "Freeze",
    "hard_freeze": "Hard freeze",
}
NOTICES = {
    "freeze_warning": "; a weather service would likely warn of it",
    "freeze_watch": "; a weather service would likely have a watch out",
    "frost_advisory": "; a weather service would likely advise of it",
}


@dataclass(frozen=True, slots=True)
class FrostRow:
    """The dates of one bound, as a row of the table."""

    name: str
    last_usual: str
    last_safe: str
    first_safe: str
    first_usual: str
    season: str


def month_day_words(day: MonthDay | None) -> str:
    """Return a day of the year, such as ``9 March``, or a dash."""
    if day is None:
        return DASH
    on = day.in_year(COMMON_YEAR)
    return f"{on.day} {on:%B}"


def dates_words(site: SiteFacts, outlook: FrostOutlook) -> str:
    """Return which frost dates plans go by, and how well they are known."""
    if site.is_frost_free:
        if site.frost_record_years is not None:
            return f"No frost in {site.frost_record_years} years of record: plans hold this place for frost-free."
        return "Plans hold this place for frost-free, as it was entered."
    if site.frost_record_years is not None:
        return (
            f"Plans go by the last frost {month_day_words(site.last_frost)} and the "
            f"first one {month_day_words(site.first_frost)}, as usual in "
            f"{site.frost_record_years} years of this place's record."
        )
    if site.last_frost is not None or site.first_frost is not None:
        return (
            f"Plans go by the dates that were typed: last frost "
            f"{month_day_words(site.last_frost)}, first {month_day_words(site.first_frost)}."
        )
    return f"No frost dates are known. {_extremes(outlook)}".strip()


def chances_words(site: SiteFacts, outlook: FrostOutlook) -> str:
    """Return past which days a frost still comes one year in ten, and what follows.

    ``outlook`` may rest on more years than the dates that plans go by.
    """
    words = []
    known = site.frost_record_years
    if known is not None and outlook.freeze.years > known:
        words.append(
            f"Plans go by the latest {known} years, what is drawn by all on record."
        )
    if site.safe_last_frost is not None:
        words.append(
            "One year in ten has a frost after "
            f"{month_day_words(site.safe_last_frost)}: tender trees are planted from then on."
        )
    if site.safe_first_frost is not None:
        words.append(
            f"One year in ten has one before {month_day_words(site.safe_first_frost)}: "
            "feeding stops in time for it."
        )
    return " ".join(words)


def _extremes(outlook: FrostOutlook) -> str:
    freeze = outlook.freeze
    if not freeze.was_seen and not freeze.years:
        return ""
    if not freeze.was_seen:
        return "The record holds no frost, and is too short to tell that none comes."
    seen = (
        ("the latest of spring", freeze.usual.latest_spring_seen),
        ("the earliest of autumn", freeze.usual.earliest_autumn_seen),
    )
    parts = [f"{which} was {month_day_words(day)}" for which, day in seen if day]
    years = "year" if freeze.years == 1 else "years"
    return (
        f"In {freeze.years} whole {years} on record {' and '.join(parts)}; chances need "
        f"{ENOUGH_YEARS} years."
    )


def frost_rows(outlook: FrostOutlook, units: UnitSystem) -> tuple[FrostRow, ...]:
    """Return the table of chances, empty with fewer than ten years."""
    return tuple(_row(each, units) for each in outlook.dates if each.is_told)


def _row(dates: FreezeDates, units: UnitSystem) -> FrostRow:
    length = dates.usual.season_days
    return FrostRow(
        name=f"{FREEZE_WORDS[dates.word]}, {format_temperature(dates.threshold_c, units)}",
        last_usual=month_day_words(dates.usual.last_spring),
        last_safe=month_day_words(dates.safe.last_spring),
        first_safe=month_day_words(dates.safe.first_autumn),
        first_usual=month_day_words(dates.usual.first_autumn),
        season=DASH if length is None else f"{length:.0f}",
    )


def zone_words(outlook: FrostOutlook, units: UnitSystem) -> str:
    """Return the hardiness zone with how far it can be trusted."""
    zone = outlook.zone
    if zone is None:
        return "Unknown: no whole winter is on record."
    winters = "winter" if zone.years == 1 else "winters"
    words = (
        f"{zone.zone}, by the coldest nights of {zone.years} {winters} "
        f"({format_temperature(zone.mean_c, units)} on average)."
    )
    if zone.is_indicative:
        words += (
            f" A short record: the map uses {MAP_YEARS} winters, and with "
            f"{zone.years} it may as well be {zone.colder_zone} to {zone.warmer_zone}."
        )
    return f"{words} It is an average and never the coldest night to expect."


def heat_words(outlook: FrostOutlook, units: UnitSystem) -> str:
    """Return the hot days a year and the heat zone they make."""
    hot = outlook.hot
    if hot is None:
        return "Unknown: no whole year is on record."
    years = "year" if hot.years == 1 else "years"
    return (
        f"{hot.days_a_year:.0f} days a year above {format_temperature(30.0, units)} in "
        f"{hot.years} {years}: heat zone {hot.zone} of 12."
    )


def notice_words(notice: FreezeNotice, today: date, units: UnitSystem) -> str:
    """Return a night of frost ahead in one line."""
    night = notice.night
    return (
        f"{day_words(night.day, today).capitalize()}: "
        f"{format_temperature(night.minimum_c, units)}, "
        f"{FREEZE_WORDS[notice.word].lower()}{NOTICES.get(notice.notice, '')}."
    )


@dataclass(frozen=True, slots=True)
class FrostSection:
    """Everything that the page of the season tells of frost and heat."""

    dates: str
    chances: str
    notices: tuple[str, ...]
    rows: tuple[FrostRow, ...]
    zone: str
    heat: str


def frost_section(
    site: SiteFacts,
    outlook: FrostOutlook,
    notices: tuple[FreezeNotice, ...],
    today: date,
    units: UnitSystem,
) -> FrostSection:
    """Return a site's frosts in words.

    Parameters
    ----------
    site : SiteFacts
        With the dates that plans go by.
    outlook : FrostOutlook
        Of as many years as are stored.
    notices : tuple of FreezeNotice
        The nights of frost ahead.
    """
    return FrostSection(
        dates=dates_words(site, outlook),
        chances=chances_words(site, outlook),
        notices=tuple(notice_words(each, today, units) for each in notices),
        rows=frost_rows(outlook, units),
        zone=zone_words(outlook, units),
        heat=heat_words(outlook, units),
    )
