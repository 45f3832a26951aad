"""What a site's own thermometer teaches of its frost nights and of its cold spot."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np
from django.db.models import F, Q, QuerySet

from care.facts import Array, FrostNights
from orchard.models import Site, WeatherDay, WeatherSeries

DAY = timedelta(days=1)


class Evening(NamedTuple):
    """Air and dew point two hours after sunset [degC]."""

    on: date
    air_c: float
    dew_point_c: float


@dataclass(frozen=True, slots=True)
class NightPairs:
    """Minima of the same nights [degC], oldest first: read here, and elsewhere."""

    nights: tuple[date, ...]
    spot_c: Array
    reference_c: Array

    def after(self, day: date | None) -> "NightPairs":
        """Return the nights after one that was forgotten with all before it."""
        if day is None:
            return self
        kept = np.array([night > day for night in self.nights], dtype=bool)
        nights = tuple(night for night in self.nights if night > day)
        return NightPairs(nights, self.spot_c[kept], self.reference_c[kept])


def typed_minima(site: Site, today: date) -> dict[date, float]:
    """Return the minima read at the site itself, by the day of their morning [degC]."""
    rows = _typed(site, today).order_by("day").values_list("day", "tmin_c")
    return {day: low for day, low in rows if low is not None}


def _typed(site: Site, today: date) -> QuerySet[WeatherDay]:
    return WeatherDay.objects.filter(
        batch__series__owner=site,
        batch__series__kind=WeatherSeries.Kind.TYPED,
        issued_on=None,
        day__lte=today,
        tmin_c__isnull=False,
    )


def logged_evenings(site: Site, today: date) -> list[Evening]:
    """Return the evenings logged up to today, oldest first."""
    rows = site.frost_evenings.filter(on__lte=today).order_by("on")
    return [Evening(*row) for row in rows.values_list("on", "air_c", "dew_point_c")]


def frost_nights(
    evenings: Iterable[Evening], minima: Mapping[date, float]
) -> FrostNights | None:
    """Return the evenings whose next morning's minimum was read at the site.

    Parameters
    ----------
    evenings : iterable of Evening
        Oldest first.
    minima : mapping of date to float
        As from :func:`typed_minima`.

    Returns
    -------
    FrostNights or None
        ``None`` where no evening has both.
    """
    nights = [
        (evening.air_c, evening.dew_point_c, minima[evening.on + DAY])
        for evening in evenings
        if evening.on + DAY in minima
    ]
    if not nights:
        return None
    air_c, dew_point_c, minimum_c = zip(*nights, strict=True)
    return FrostNights(air_c, dew_point_c, minimum_c)


def night_pairs(site: Site, today: date, minima: Mapping[date, float]) -> NightPairs:
    """Return the nights of which another source has a minimum too.

    The most trusted station's reading counts; where no station has one, the newest
    forecast that was made before the night.

    Parameters
    ----------
    site : Site
    today : date
        The morning as of which is asked.
    minima : mapping of date to float
        As from :func:`typed_minima`.
    """
    earlier_forecast = Q(issued_on__lt=F("day"))
    rows = (
        WeatherDay.objects.filter(
            Q(issued_on=None) | earlier_forecast,
            batch__series__readers__site=site,
            day__in=_typed(site, today).values("day"),
            tmin_c__isnull=False,
        )
        .exclude(batch__series__kind=WeatherSeries.Kind.TYPED)
        # Whoever comes last is believed: forecasts first, then stations by rank.
        .order_by(
            F("issued_on").asc(nulls_last=True),
            "-batch__series__readers__rank",
            "batch_id",
        )
        .values_list("day", "tmin_c")
    )
    reference = dict(rows)
    nights = tuple(sorted(day for day in reference if day in minima))
    return NightPairs(
        nights=nights,
        spot_c=np.array([minima[night] for night in nights], dtype=np.float64),
        reference_c=np.array([reference[night] for night in nights], dtype=np.float64),
    )
