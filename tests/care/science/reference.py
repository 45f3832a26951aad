"""Reference values of the science, read from the files beside the tests."""

import csv
from datetime import date, timedelta
from pathlib import Path

import numpy as np

DATA = Path(__file__).parent / "data"
SEATTLE = Path(__file__).parents[3] / "deploy" / "demo" / "seattle_daily_2012_2015.csv"
SEATTLE_LATITUDE_DEG = 47.45


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8") as lines:
        kept = (line for line in lines if not line.startswith("#"))
        return list(csv.DictReader(kept))


def reference_rows(name: str) -> list[dict[str, str]]:
    return _rows(DATA / name)


class SeattleRecord:
    """1461 days, 2012-2015, without a gap."""

    def __init__(self) -> None:
        rows = _rows(SEATTLE)
        self.days = [date.fromisoformat(row["date"]) for row in rows]
        self.start = self.days[0]
        self.tmin_c = np.array([float(row["tmin_c"]) for row in rows])
        self.tmax_c = np.array([float(row["tmax_c"]) for row in rows])
        self.rain_mm = np.array([float(row["rain_mm"]) for row in rows])
        self.day_numbers = np.array([day.timetuple().tm_yday for day in self.days])

    def at(self, day: date) -> int:
        return (day - self.start).days

    def between(self, first, last):
        return slice(self.at(first), self.at(last) + 1)

    def year(self, year):
        return self.between(date(year, 1, 1), date(year, 12, 31))

    def day(self, place):
        return self.start + timedelta(days=int(place))
