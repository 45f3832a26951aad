"""A site's frosts, coldest nights and hot days in words."""

from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext, gettext_noop, ngettext

from care.facts import MonthDay, SiteFacts
from care.planning.frost_outlook import (
    ENOUGH_YEARS,
    MAP_YEARS,
    FreezeDates,
    FreezeNotice,
    FrostOutlook,
)
from care.views.days import DASH, day_words
from orchard.languages import day_and_month, listed
from orchard.units import UnitSystem, format_temperature

COMMON_YEAR = 2001
FREEZE_WORDS = {
    "frost": gettext_noop("Frost"),
    "freeze": gettext_noop("Freeze"),
    "hard_freeze": gettext_noop("Hard freeze"),
}
NOTICES = {
    "freeze_warning": gettext_noop("; a weather service would likely warn of it"),
    "freeze_watch": gettext_noop("; a weather service would likely have a watch out"),
    "frost_advisory": gettext_noop("; a weather service would likely advise of it"),
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
    return day_and_month(day.in_year(COMMON_YEAR))


def dates_words(site: SiteFacts, outlook: FrostOutlook) -> str:
    """Return which frost dates plans go by, and how well they are known."""
    if site.is_frost_free:
        if site.frost_record_years is not None:
            return gettext(
                "No frost in {frost_record_years} years of record: plans hold this "
                "place for frost-free."
            ).format(frost_record_years=site.frost_record_years)
        return gettext("Plans hold this place for frost-free, as it was entered.")
    if site.frost_record_years is not None:
        return gettext(
            "Plans go by the last frost {last_frost} and the first one "
            "{first_frost}, as usual in {frost_record_years} years of this place's "
            "record."
        ).format(
            last_frost=month_day_words(site.last_frost),
            first_frost=month_day_words(site.first_frost),
            frost_record_years=site.frost_record_years,
        )
    if site.last_frost is not None or site.first_frost is not None:
        return gettext(
            "Plans go by the dates that were typed: last frost {last_frost}, first "
            "{first_frost}."
        ).format(
            last_frost=month_day_words(site.last_frost),
            first_frost=month_day_words(site.first_frost),
        )
    return (gettext("No frost dates are known.") + f" {_extremes(outlook)}").strip()


def chances_words(site: SiteFacts, outlook: FrostOutlook) -> str:
    """Return past which days a frost still comes one year in ten, and what follows.

    ``outlook`` may rest on more years than the dates that plans go by.
    """
    words = []
    known = site.frost_record_years
    if known is not None and outlook.freeze.years > known:
        words.append(
            gettext(
                "Plans go by the latest {known} years, what is drawn by all on record."
            ).format(known=known)
        )
    if site.safe_last_frost is not None:
        words.append(
            gettext(
                "One year in ten has a frost after {safe_last_frost}: tender trees "
                "are planted from then on."
            ).format(safe_last_frost=month_day_words(site.safe_last_frost))
        )
    if site.safe_first_frost is not None:
        words.append(
            gettext(
                "One year in ten has one before {safe_first_frost}: feeding stops "
                "in time for it."
            ).format(safe_first_frost=month_day_words(site.safe_first_frost))
        )
    return " ".join(words)


def _extremes(outlook: FrostOutlook) -> str:
    freeze = outlook.freeze
    if not freeze.was_seen and not freeze.years:
        return ""
    if not freeze.was_seen:
        return gettext(
            "The record holds no frost, and is too short to tell that none comes."
        )
    parts = []
    if spring := freeze.usual.latest_spring_seen:
        parts.append(
            gettext("the latest of spring was {spring}").format(
                spring=month_day_words(spring)
            )
        )
    if autumn := freeze.usual.earliest_autumn_seen:
        parts.append(
            gettext("the earliest of autumn was {autumn}").format(
                autumn=month_day_words(autumn)
            )
        )
    words = ngettext(
        "In {years} whole year on record {seen}; chances need {enough} years.",
        "In {years} whole years on record {seen}; chances need {enough} years.",
        freeze.years,
    )
    return words.format(years=freeze.years, seen=listed(parts), enough=ENOUGH_YEARS)


def frost_rows(outlook: FrostOutlook, units: UnitSystem) -> tuple[FrostRow, ...]:
    """Return the table of chances, empty with fewer than ten years."""
    return tuple(_row(each, units) for each in outlook.dates if each.is_told)


def _row(dates: FreezeDates, units: UnitSystem) -> FrostRow:
    length = dates.usual.season_days
    return FrostRow(
        name=f"{gettext(FREEZE_WORDS[dates.word])}, {format_temperature(dates.threshold_c, units)}",
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
        return gettext("Unknown: no whole winter is on record.")
    mean = format_temperature(zone.mean_c, units)
    words = ngettext(
        "{zone}, by the coldest nights of {years} winter ({mean} on average).",
        "{zone}, by the coldest nights of {years} winters ({mean} on average).",
        zone.years,
    ).format(zone=zone.zone, years=zone.years, mean=mean)
    if zone.is_indicative:
        words += " " + gettext(
            "A short record: the map uses {map_years} winters, and with {years} it "
            "may as well be {colder_zone} to {warmer_zone}."
        ).format(
            map_years=MAP_YEARS,
            years=zone.years,
            colder_zone=zone.colder_zone,
            warmer_zone=zone.warmer_zone,
        )
    return f"{words} " + gettext(
        "It is an average and never the coldest night to expect."
    )


def heat_words(outlook: FrostOutlook, units: UnitSystem) -> str:
    """Return the hot days a year and the heat zone they make."""
    hot = outlook.hot
    if hot is None:
        return gettext("Unknown: no whole year is on record.")
    words = ngettext(
        "{days} days a year above {limit} in {years} year: heat zone {zone} of 12.",
        "{days} days a year above {limit} in {years} years: heat zone {zone} of 12.",
        hot.years,
    )
    return words.format(
        days=f"{hot.days_a_year:.0f}",
        limit=format_temperature(30.0, units),
        years=hot.years,
        zone=hot.zone,
    )


def notice_words(notice: FreezeNotice, today: date, units: UnitSystem) -> str:
    """Return a night of frost ahead in one line."""
    night = notice.night
    return (
        f"{day_words(night.day, today).capitalize()}: "
        f"{format_temperature(night.minimum_c, units)}, "
        f"{gettext(FREEZE_WORDS[notice.word]).lower()}{gettext(NOTICES.get(notice.notice, ''))}."
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
