"""The list of the stations of GHCN-Daily, and which of them are near a place.

``ghcnd-stations.txt`` (readme of GHCN-Daily, section IV): fixed columns, one station a
line, -999.9 for a height that nobody knows. Whoever has it, or the part of it for one
country, finds the station to fetch without a search on the network.
"""

import heapq
import re
from collections.abc import Iterator
from dataclasses import dataclass

from orchard.sources.distance import distance_km
from orchard.sources.ghcn_records import ArchiveStation

#: Station, latitude, longitude and height in their columns, then the name.
_LINE = re.compile(
    r"(?P<id>[A-Z]{2}[A-Z0-9_-]{9}) (?P<latitude>[ -]{0,3}\d{1,2}\.\d{4})"
    r" (?P<longitude>[ -]{0,4}\d{1,3}\.\d{4})(?P<height>[ -]{1,6}\d{1,4}\.\d)"
    r"(?: (?P<state>.{2})(?: (?P<name>.{1,30}))?)?",
    re.ASCII,
)
UNKNOWN_HEIGHT_M = -999.9
NEAREST = 10
POLE_DEG = 90.0


@dataclass(frozen=True, slots=True)
class NearStation:
    """A station and how far it is from a place; height above it, where known."""

    station: ArchiveStation
    away_km: float
    above_m: float | None


def is_station_list(line: str) -> bool:
    """Whether a first line is one of the list."""
    return _LINE.match(line) is not None


def read_stations(text: str) -> Iterator[ArchiveStation]:
    """Yield the stations of a list; lines of another form are passed over."""
    for line in text.splitlines():
        match = _LINE.match(line)
        if match is None:
            continue
        latitude = float(match["latitude"].replace(" ", ""))
        longitude = float(match["longitude"].replace(" ", ""))
        height = float(match["height"].replace(" ", ""))
        if abs(latitude) <= POLE_DEG and abs(longitude) <= 2 * POLE_DEG:
            yield ArchiveStation(
                station_id=match["id"],
                name=" ".join(f"{match['name'] or ''} {match['state'] or ''}".split()),
                latitude_deg=latitude,
                longitude_deg=longitude,
                elevation_m=None if height == UNKNOWN_HEIGHT_M else height,
            )


def nearest_stations(
    text: str, latitude_deg: float, longitude_deg: float, elevation_m: float
) -> list[NearStation]:
    """Return the :data:`NEAREST` stations of a list to a place, the nearest first."""
    found = (
        NearStation(
            station,
            away_km(station, latitude_deg, longitude_deg) or 0.0,
            None if station.elevation_m is None else station.elevation_m - elevation_m,
        )
        for station in read_stations(text)
    )
    return heapq.nsmallest(NEAREST, found, key=lambda near: near.away_km)


def away_km(
    station: ArchiveStation, latitude_deg: float, longitude_deg: float
) -> float | None:
    """Return how far a station is from a place, where it is known where it stands."""
    if station.latitude_deg is None or station.longitude_deg is None:
        return None
    return distance_km(
        station.latitude_deg, station.longitude_deg, latitude_deg, longitude_deg
    )
