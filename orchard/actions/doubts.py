"""Values that came and are not believed: set aside, and settled by a person."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, timedelta
from typing import Any

from django.db import transaction
from django.db.models import Q
from django.utils.translation import gettext, gettext_noop

from orchard.actions.audit import note
from orchard.actions.places import raise_revision
from orchard.models import (
    DoubtedValue,
    Person,
    Site,
    WeatherBatch,
    WeatherDay,
    WeatherSeries,
)
from orchard.sources.known_days import normals_of
from orchard.sources.normals import daily_normals
from orchard.sources.quality import CHECKED, DoubtedDay, doubted_days
from orchard.sources.quality_hours import Why

Values = Mapping[str, float | None]
#: A value said to be right or wrong is the same again within this.
SAME = 0.051
AROUND = timedelta(days=40)  # of its own record, for a day that comes alone
VARIABLE_WORDS = {
    "tmin_c": gettext_noop("lowest"),
    "tmax_c": gettext_noop("highest"),
    "rain_mm": gettext_noop("rain"),
    "humidity_percent": gettext_noop("humidity"),
    "wind_ms": gettext_noop("wind"),
    "gust_ms": gettext_noop("gusts"),
    "radiation_mj": gettext_noop("sunshine energy"),
    "et0_mm": gettext_noop("reference evapotranspiration"),
}


class DoubtClashError(ValueError):
    """A value that cannot be right beside another of its day; the message says so."""


def find_doubts(
    site: Site, series: WeatherSeries, days: Sequence[tuple[date, Values]]
) -> tuple[DoubtedDay, ...]:
    """Return what is doubted of days of a series; a part of actions.

    They are held against what other series of the site hold for the same days and
    against its usual months. Few days are held against the series' own days before.
    """
    if not days:
        return ()
    first, last = min(day for day, _ in days), max(day for day, _ in days)
    mine = {day for day, _ in days}
    rows = _observed(site, first - AROUND, last + AROUND)
    own, others = dict[date, Values](), dict[date, Values]()
    for day, whose_id, *values in rows:
        whose = own if whose_id == series.pk else others
        whose[day] = {**whose.get(day, {}), **_known(values)}
    normals = normals_of(site)
    found = doubted_days(
        [*days, *((day, values) for day, values in own.items() if day not in mine)],
        others=list(others.items()),
        usual=daily_normals(normals) if normals else None,
    )
    return tuple(doubt for doubt in found if doubt.day in mine)


def _observed(site: Site, first: date, last: date) -> Iterable[tuple[Any, ...]]:
    rows = WeatherDay.objects.filter(
        batch__series__readers__site=site, issued_on=None, day__range=(first, last)
    )
    return rows.order_by("-batch__series__readers__rank", "batch_id").values_list(
        "day", "batch__series", *CHECKED
    )


def _known(values: Sequence[float | None]) -> Values:
    named = zip(CHECKED, values, strict=True)
    return {name: value for name, value in named if value is not None}


@transaction.atomic
def set_aside(
    *,
    series: WeatherSeries,
    batch: WeatherBatch,
    doubts: Sequence[DoubtedDay],
    now: datetime,
) -> set[tuple[date, str]]:
    """Keep what is doubted and return what is not to be used; a part of actions.

    What a person said is right counts; what they said is wrong is not asked again. An
    answer about a value that came again and again holds for as long as it comes.
    """
    left_out: set[tuple[date, str]] = set()
    new = []
    settled = _settled(series, doubts)
    for doubt in doubts:
        said = [
            is_right
            for value, is_right in settled.get(_about(doubt.day, doubt), [])
            if abs(value - doubt.value) <= SAME
        ]
        if said and said[-1]:
            continue
        left_out.add((doubt.day, doubt.variable))
        if not said:
            new.append(
                DoubtedValue(
                    series=series,
                    batch=batch,
                    day=doubt.day,
                    variable=doubt.variable,
                    value=doubt.value,
                    why=doubt.why.value,
                    found_at=now,
                )
            )
    DoubtedValue.objects.bulk_create(new, batch_size=500)
    return left_out


def _about(day: date, doubt: DoubtedDay | DoubtedValue) -> tuple[date | None, str]:
    """Return what an answer is about: a value of one day, or of all that repeat it."""
    return None if doubt.why == Why.STUCK else day, doubt.variable


def _settled(
    series: WeatherSeries, doubts: Sequence[DoubtedDay]
) -> dict[tuple[date | None, str], list[tuple[float, bool]]]:
    """Return what was said before, in order, by what it is about."""
    if not doubts:
        return {}
    days = [doubt.day for doubt in doubts]
    rows = DoubtedValue.objects.filter(
        Q(day__range=(min(days), max(days))) | Q(why=Why.STUCK),
        series=series,
        settled_at__isnull=False,
    ).order_by("settled_at", "id")
    found: dict[tuple[date | None, str], list[tuple[float, bool]]] = {}
    for row in rows:
        answers = found.setdefault(_about(row.day, row), [])
        answers.append((row.value, bool(row.is_right)))
    return found


def open_doubts(site: Site) -> Q:
    """Return which doubts wait for an answer of the people of a site."""
    return Q(series__owner=site, settled_at=None)


@transaction.atomic
def settle_doubt(
    *, site: Site, doubt_id: int, is_right: bool, person: Person, now: datetime
) -> DoubtedValue | None:
    """Say that a value set aside is right, and use it, or that it is wrong.

    Returns
    -------
    DoubtedValue or None
        ``None`` where the site has no such doubt that is still open.

    Raises
    ------
    DoubtClashError
        When the value and another of its day cannot both be right.
    """
    doubt = (
        DoubtedValue.objects.select_for_update()
        .filter(open_doubts(site), pk=doubt_id)
        .first()
    )
    if doubt is None:
        return None
    alike = _alike(doubt)
    answer = {"settled_at": now, "settled_by": person, "is_right": is_right}
    DoubtedValue.objects.filter(pk__in=[one.pk for one in alike]).update(**answer)
    if is_right:
        for one in alike:
            if one.batch_id is not None:
                _use(one)
        raise_revision(site)
    days = {"days": len(alike)} if len(alike) > 1 else {}
    note(
        orchard=site.orchard,
        person=person,
        what="doubt_right" if is_right else "doubt_wrong",
        subject=f"{VARIABLE_WORDS[doubt.variable]} of {doubt.day}",
        after={doubt.variable: doubt.value, **days},
        now=now,
    )
    doubt.refresh_from_db()
    return doubt


def _alike(doubt: DoubtedValue) -> list[DoubtedValue]:
    """Return the doubts that one answer settles: a value that came day after day."""
    if doubt.why != Why.STUCK:
        return [doubt]
    return list(
        DoubtedValue.objects.select_for_update().filter(
            series=doubt.series_id,
            batch=doubt.batch_id,
            variable=doubt.variable,
            why=doubt.why,
            value__range=(doubt.value - SAME, doubt.value + SAME),
            settled_at=None,
        )
    )


def _use(doubt: DoubtedValue) -> None:
    """Write the value into its batch's day."""
    row, _ = WeatherDay.objects.get_or_create(
        batch_id=doubt.batch_id, day=doubt.day, issued_on=None
    )
    setattr(row, doubt.variable, doubt.value)
    low, high = row.tmin_c, row.tmax_c
    if low is not None and high is not None and low > high:
        message = gettext(
            "Then the highest of that day would be below its lowest. Write down the "
            "right one instead."
        )
        raise DoubtClashError(message)
    row.save(update_fields=[doubt.variable])
