"""The forecast services there are: what each gives, where, and on whose terms.

The order is the one in which they are offered. What a service asks of those who use
it, be it a credit, a pause between questions or how closely a place may be named,
stands here and is kept by whoever asks.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from urllib.parse import urlsplit
from zoneinfo import ZoneInfo

from django.conf import settings
from django.utils.translation import gettext_noop

from orchard.models import Site
from orchard.sources import column_forecast, norwegian_forecast, us_forecast
from orchard.sources.arriving import Answer, Ask, AskedPlace

#: A hundredth of a degree is about a kilometre: no forecast is finer, and no service
#: learns from it in whose garden the trees stand.
PLACE_DECIMALS = 2
HEIGHT_STEP_M = 50

Fetch = Callable[[AskedPlace, Ask], Answer]


@dataclass(frozen=True, slots=True)
class WeatherService:
    """A public service that forecasts.

    ``credit`` must stand wherever its values do, with ``credit_url`` and the
    ``licence`` they come under. ``interval`` is the least time between two questions
    about one place, also where the service itself would allow more.
    """

    key: str
    name: str
    gives: str
    where: str
    credit: str
    credit_url: str
    licence: str
    licence_url: str
    interval: timedelta
    fetch: Fetch
    host: Callable[[], str]
    covers: Callable[[float, float], bool]
    terms: str = ""


def _everywhere(latitude_deg: float, longitude_deg: float) -> bool:
    del latitude_deg, longitude_deg
    return True


# Boxes round the land, in degrees: south, north, west, east (from memory). They take
# in strips of neighbours and sea; there the service says itself that it has nothing.
_UNITED_STATES = (
    (24.3, 49.5, -125.0, -66.8),  # the 48 states
    (51.0, 71.6, -180.0, -129.9),  # Alaska
    (51.0, 53.5, 172.0, 180.0),  # the Aleutian islands beyond the date line
    (18.8, 22.4, -160.6, -154.7),  # Hawaii
    (17.6, 18.6, -67.4, -64.5),  # Puerto Rico and the Virgin Islands
    (13.2, 20.6, 144.5, 146.2),  # Guam and the northern Marianas
    (-14.6, -11.0, -171.2, -168.1),  # American Samoa
)


def in_united_states(latitude_deg: float, longitude_deg: float) -> bool:
    """Whether a place lies in one of the boxes round the United States."""
    return any(
        south <= latitude_deg <= north and west <= longitude_deg <= east
        for south, north, west, east in _UNITED_STATES
    )


def _columns_host() -> str:
    return urlsplit(settings.ORCHARD_FORECAST_URL).hostname or ""


SERVICES: tuple[WeatherService, ...] = (
    WeatherService(
        key="columns",
        name="Open-Meteo",
        gives=gettext_noop(
            "16 days: lowest and highest, rain, wind, sunshine, and how much water "
            "evaporates."
        ),
        where=gettext_noop("All over the world."),
        credit=gettext_noop("Weather data by Open-Meteo.com"),
        credit_url="https://open-meteo.com/",
        licence=gettext_noop("CC BY 4.0"),
        licence_url="https://creativecommons.org/licenses/by/4.0/",
        interval=timedelta(hours=3),
        fetch=column_forecast.fetch,
        host=_columns_host,
        covers=_everywhere,
        terms=gettext_noop(
            "Free for uses that earn no money, up to 10 000 questions a day."
        ),
    ),
    WeatherService(
        key="norwegian",
        name="MET Norway",
        gives=gettext_noop("9 days: lowest and highest, rain, humidity and wind."),
        where=gettext_noop("All over the world; finest in northern Europe."),
        credit=gettext_noop("Based on data from MET Norway"),
        credit_url="https://api.met.no/",
        licence=gettext_noop("CC BY 4.0"),
        licence_url="https://creativecommons.org/licenses/by/4.0/",
        interval=timedelta(hours=2),
        fetch=norwegian_forecast.fetch,
        host=lambda: "api.met.no",
        covers=_everywhere,
    ),
    WeatherService(
        key="us",
        name="National Weather Service",
        gives=gettext_noop(
            "7 days: lowest and highest, rain, humidity and wind; and the official "
            "warnings of frost, heat and storm."
        ),
        where=gettext_noop(
            "The United States with Alaska, Hawaii, Puerto Rico and the Pacific "
            "territories."
        ),
        credit=gettext_noop("Forecast and warnings by the US National Weather Service"),
        credit_url="https://www.weather.gov/",
        licence=gettext_noop("free of rights, a work of the US government"),
        licence_url="https://www.weather.gov/disclaimer",
        interval=timedelta(hours=1),
        fetch=us_forecast.fetch,
        host=lambda: "api.weather.gov",
        covers=in_united_states,
    ),
)


def service_of(key: str) -> WeatherService | None:
    """Return a service by its key, ``None`` for one there is not (any more)."""
    return next((service for service in SERVICES if service.key == key), None)


def services_at(site: Site) -> Iterator[WeatherService]:
    """Yield the services that cover a site, in the order in which they are offered."""
    for service in SERVICES:
        if service.covers(site.latitude_deg, site.longitude_deg):
            yield service


def cell_of(site: Site) -> str:
    """Return what a site is to the services: the cell it shares with those near it.

    It holds the place to a hundredth of a degree, the height to 50 metres and the
    clock its days go by: "47.45,-122.31,100,America/Los_Angeles".
    """
    height_m = HEIGHT_STEP_M * round(site.elevation_m / HEIGHT_STEP_M)
    # Adding nothing turns a rounded "-0.0" into the zero it is.
    latitude = round(site.latitude_deg, PLACE_DECIMALS) + 0.0
    longitude = round(site.longitude_deg, PLACE_DECIMALS) + 0.0
    return f"{latitude:g},{longitude:g},{height_m},{site.time_zone}"


def place_of(cell: str, now: datetime) -> AskedPlace:
    """Return what is asked about a cell at ``now``, which is aware."""
    latitude, longitude, height_m, zone = cell.split(",", 3)
    return AskedPlace(
        latitude_deg=float(latitude),
        longitude_deg=float(longitude),
        elevation_m=float(height_m),
        zone=ZoneInfo(zone),
        now=now,
    )
