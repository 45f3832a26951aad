"""Photos as pages show them: small ones in a strip, seasons side by side."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from django.db.models import QuerySet
from django.utils.translation import gettext, gettext_noop

from care.actions.picture import SMALL_DOTS
from care.models import LogEntry, Photo
from care.views.days import short_day
from care.views.log_people import name_of
from care.views.photo_words import photo_words
from orchard.languages import day_and_month, month_name
from orchard.models import Tree

#: Between the tropics a year has no winter to speak of (latitude of the tropics, IAU).
TROPIC_DEG = 23.44
SEASON_MONTHS = 3
#: Seasons of three whole months, winter from December, as the weather services count
#: (WMO, International Meteorological Vocabulary).
NORTHERN = (
    gettext_noop("Winter"),
    gettext_noop("Spring"),
    gettext_noop("Summer"),
    gettext_noop("Autumn"),
)
MOST_YEARS = 8


@dataclass(frozen=True, slots=True)
class PhotoLine:
    """One photo in words; ``width`` and ``height`` are of its thumbnail, in dots."""

    public_id: UUID
    words: str
    caption: str
    day: str
    day_of_year: str  # without the year
    on: date
    who: str
    width: int
    height: int
    year: str = ""


@dataclass(frozen=True, slots=True)
class SeasonRow:
    """One season of several years, oldest first."""

    title: str
    photos: tuple[PhotoLine, ...]


def photos_of(site_id: int) -> QuerySet[Photo]:
    """Return the photos of a site that stand, newest first, with what a line names."""
    return Photo.objects.filter(site_id=site_id, voided_at=None).select_related(
        "site", "tree", "person", "helper"
    )


def photo_line(photo: Photo, today: date, year: str = "") -> PhotoLine:
    """Return one photo in words; its tree and who added it must be at hand."""
    name = photo.tree.name if photo.tree else photo.site.name
    scale = min(1.0, SMALL_DOTS / max(photo.width, photo.height))
    words = photo_words(name, photo.on, today)
    return PhotoLine(
        public_id=photo.public_id,
        words=f"{words}: {photo.caption}" if photo.caption else words,
        caption=photo.caption,
        day=short_day(photo.on, today),
        day_of_year=day_and_month(photo.on),
        on=photo.on,
        who=name_of(photo.person, photo.helper),
        width=max(1, round(photo.width * scale)),
        height=max(1, round(photo.height * scale)),
        year=year,
    )


def photos_of_entries(
    entries: Sequence[LogEntry], today: date
) -> dict[int, tuple[PhotoLine, ...]]:
    """Return the photos that stand of entries of one site, by the entry's key."""
    if not entries:
        return {}
    found: dict[int, list[PhotoLine]] = defaultdict(list)
    for photo in photos_of(entries[0].site_id).filter(entry__in=entries):
        if photo.entry_id is not None:
            found[photo.entry_id].append(photo_line(photo, today))
    return {key: tuple(lines) for key, lines in found.items()}


def tree_strip(tree: Tree, today: date, most: int) -> tuple[PhotoLine, ...]:
    """Return the newest photos of a tree."""
    newest = photos_of(tree.site_id).filter(tree=tree)[:most]
    return tuple(photo_line(photo, today) for photo in newest)


def side_by_side(
    photos: Iterable[Photo], latitude_deg: float, today: date
) -> tuple[SeasonRow, ...]:
    """Return each season that was photographed in several years, this one first.

    Of every year it is the photo taken nearest to the same days of the season as the
    newest of all.
    """
    found: dict[int, dict[int, list[Photo]]] = defaultdict(lambda: defaultdict(list))
    for photo in photos:
        season, year = season_of(photo.on)
        found[season][year].append(photo)
    now, _ = season_of(today)
    return tuple(
        SeasonRow(
            season_name(season, latitude_deg),
            tuple(
                photo_line(photo, today, _year_words(season, year))
                for year, photo in _alike(found[season])
            ),
        )
        for season in sorted(found, key=lambda season: (season - now) % 4)
        if len(found[season]) > 1
    )


def _alike(years: dict[int, list[Photo]]) -> list[tuple[int, Photo]]:
    latest = sorted(years)[-MOST_YEARS:]
    newest = max(years[latest[-1]], key=lambda photo: photo.on)
    meant = _days_in(newest.on)
    return [
        (year, min(years[year], key=lambda photo: abs(_days_in(photo.on) - meant)))
        for year in latest
    ]


def season_of(day: date) -> tuple[int, int]:
    """Return the season, 0 from December to 3 from September, and the year it began."""
    season = day.month % 12 // SEASON_MONTHS
    return season, day.year - (day.month < SEASON_MONTHS)


def _days_in(day: date) -> int:
    """Return how many days of its season have passed."""
    season, year = season_of(day)
    return (day - date(year, season * SEASON_MONTHS or 12, 1)).days


def season_name(season: int, latitude_deg: float) -> str:
    """Return what a season is called where it is: south, half a year apart."""
    if abs(latitude_deg) < TROPIC_DEG:
        first = season * SEASON_MONTHS or 12
        return gettext("{first} to {last}").format(
            first=month_name(first), last=month_name((first + 1) % 12 + 1)
        )
    return gettext(NORTHERN[season if latitude_deg > 0 else (season + 2) % 4])


def _year_words(season: int, year: int) -> str:
    """Return the year, or both that a season from December lies in."""
    return f"{year}\N{EN DASH}{(year + 1) % 100:02d}" if season == 0 else str(year)


def before_and_after(
    photos: Sequence[UUID], public_id: UUID
) -> tuple[UUID | None, UUID | None]:
    """Return the newer and the older neighbour of a photo among a tree's."""
    if public_id not in photos:
        return None, None
    place = photos.index(public_id)
    newer = photos[place - 1] if place else None
    older = photos[place + 1] if place + 1 < len(photos) else None
    return newer, older
