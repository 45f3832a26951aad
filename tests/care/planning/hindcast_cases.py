"""The two real records, as a look back reads them."""

from datetime import date
from functools import cache
from pathlib import Path

from care.facts import SiteFacts
from care.planning.hindcast_record import Record
from care.planning.weather_days import StoredDay
from tests.care.science.new_york import DAILY, rows

SEATTLE = Path(__file__).parents[3] / "deploy" / "demo" / "seattle_daily_2012_2015.csv"


def stored(day: date, tmin_c, tmax_c, rain_mm, *, wind_ms=None, issued_on=None):
    """Return one day as the database gives it."""
    values = (tmin_c, tmax_c, rain_mm, None, wind_ms, None, None)
    return StoredDay(day, issued_on, values)


def _read(path: Path, site: SiteFacts) -> Record:
    observed = tuple(
        stored(
            date.fromisoformat(row["date"]),
            float(row["tmin_c"]),
            float(row["tmax_c"]),
            float(row["rain_mm"]),
            wind_ms=float(row["wind_ms"]),
        )
        for row in rows(path)
    )
    return Record(site, observed, {}, None)


@cache
def seattle() -> Record:
    site = SiteFacts(latitude_deg=47.45, elevation_m=122, soil_texture="sandy_loam")
    return _read(SEATTLE, site)


@cache
def new_york() -> Record:
    site = SiteFacts(latitude_deg=40.64, elevation_m=4, soil_texture="sandy_loam")
    return _read(DAILY, site)
