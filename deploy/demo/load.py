"""Load and clear the demonstration."""

import csv
from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta
from pathlib import Path

import numpy as np
from django.db import transaction

from care.actions.holds import log_spray
from care.actions.tasks import complete_task
from care.models import Task
from care.planning.plan_site import plan_site
from deploy.demo.people_days import offer_the_days
from deploy.demo.photos import photograph
from deploy.demo.plan import draw_plan
from deploy.demo.planting import want_a_planting
from deploy.demo.scenario import (
    ALDER_ROW,
    ALDER_ROW_BLOCKS,
    ALDER_ROW_PLANNED,
    ALDER_ROW_TREES,
    LEAST_AHEAD_DAYS,
    OWNER,
    PEOPLE,
    PLANTING_DAY,
    PLANTING_MONTH,
    QUAY_STEPS,
    QUAY_STEPS_BLOCKS,
    QUAY_STEPS_NORMALS,
    QUAY_STEPS_TREES,
    SPRAY_PRODUCT,
    SPRAY_WAITING_DAYS,
    SPRAYED_DAYS_AGO,
    SPRAYED_TREE,
    DemoTree,
)
from orchard.actions.people import found_orchard
from orchard.actions.places import add_site, block_named
from orchard.actions.trees import add_tree, put_pot
from orchard.actions.weather import import_days, read_series, set_normals
from orchard.models import (
    Membership,
    Orchard,
    Person,
    Role,
    Site,
    WeatherBatch,
    WeatherDay,
    WeatherSeries,
)

RECORD = Path(__file__).parent / "seattle_daily_2012_2015.csv"
FIRST_DAY = date(2012, 1, 1)
RECORD_DAYS = 1461
FORECAST_DAYS = 5
LIVED_DAYS = 60
WALK_EVERY_DAYS = 3
ATTRIBUTION = "NOAA GHCN-Daily, Seattle-Tacoma, 2012-2015, public domain"

RecordDay = tuple[date, dict[str, float | None]]


def shift_days(real_day: date) -> int:
    """Return by which multiple of the record's length a real day lies after it."""
    return (real_day - FIRST_DAY).days // RECORD_DAYS * RECORD_DAYS


def record_days() -> list[RecordDay]:
    """Read the weather record."""
    with RECORD.open(encoding="utf-8") as file:
        rows = csv.DictReader(line for line in file if not line.startswith("#"))
        return [
            (
                date.fromisoformat(row["date"]),
                {
                    name: float(row[name]) if row[name] else None
                    for name in ("tmin_c", "tmax_c", "rain_mm", "wind_ms")
                },
            )
            for row in rows
        ]


@transaction.atomic
def load_demo(real_day: date, now: datetime, lived_days: int = LIVED_DAYS) -> list[str]:
    """Create both orchards; return the address words of their sites.

    The first one's log begins ``lived_days`` before its opening day.
    """
    owner = _people()
    alder_row = _alder_row(owner, real_day, now, lived_days)
    quay_steps = _quay_steps(owner, real_day)
    return [alder_row.slug, quay_steps.slug]


@transaction.atomic
def clear_demo() -> int:
    """Delete the demonstration's orchards and the people who are in no other."""
    names = [name for name, _first, _role in PEOPLE]
    demo = Orchard.objects.filter(is_demo=True)
    number = demo.count()
    demo.delete()
    Person.objects.filter(username__in=names, memberships=None).delete()
    return number


def _people() -> Person:
    for name, first_name, _role in PEOPLE:
        person, is_new = Person.objects.get_or_create(
            username=name, defaults={"first_name": first_name}
        )
        if is_new:
            person.set_unusable_password()
            person.save(update_fields=["password"])
    return Person.objects.get(username=OWNER)


def _share(orchard: Orchard) -> None:
    for name, _first, role in PEOPLE:
        if role != Role.OWNER:
            person = Person.objects.get(username=name)
            Membership.objects.create(person=person, orchard=orchard, role=role)


def _alder_row(owner: Person, real_day: date, now: datetime, lived_days: int) -> Site:
    orchard = found_orchard(person=owner, name="Alder Row", is_demo=True)
    _share(orchard)
    shift = shift_days(real_day)
    today = real_day - timedelta(days=shift)
    values = {**ALDER_ROW, "own_today": today, "calendar_shift_days": shift}
    site = add_site(orchard=orchard, values=values, slug="alder-row")
    fill_weather(site, record_days())
    fill_trees(site, ALDER_ROW_BLOCKS, ALDER_ROW_TREES)
    start = max(FIRST_DAY, today - timedelta(days=lived_days))
    _plan_a_tree(site, today, entered_on=start)
    draw_plan(site)
    want_a_planting(site, today)
    offer_the_days(site, now)
    _spray(site, owner, today - timedelta(days=SPRAYED_DAYS_AGO), now)
    _live(site, owner, start, today, now)
    photograph(site, owner, today, now)
    return site


def _quay_steps(owner: Person, real_day: date) -> Site:
    orchard = found_orchard(person=owner, name="Quay Steps Garden", is_demo=True)
    _share(orchard)
    site = add_site(orchard=orchard, values=QUAY_STEPS, slug="quay-steps")
    set_normals(site=site, months=QUAY_STEPS_NORMALS)
    trees = [tree for tree in QUAY_STEPS_TREES if tree.planted_on <= real_day]
    fill_trees(site, QUAY_STEPS_BLOCKS, trees, real_day)
    return site


def fill_weather(site: Site, days: Sequence[RecordDay]) -> None:
    """Give a site the record, its mornings' forecasts and its monthly means."""
    batch = import_days(
        site=site, days=days, label="Seattle-Tacoma, daily, 2012-2015", person=None
    )
    WeatherSeries.objects.filter(pk=batch.series_id).update(attribution=ATTRIBUTION)
    _forecasts(site, days)
    set_normals(site=site, months=_normals(days))


def _forecasts(site: Site, days: Sequence[RecordDay]) -> None:
    """Let every morning know the record's next five days as a forecast issued then."""
    series = WeatherSeries.objects.create(
        owner=site,
        kind=WeatherSeries.Kind.FORECAST,
        name="Forecast",
        attribution="The record's own next days, standing in for a forecast",
    )
    read_series(site=site, series=series)
    batch = WeatherBatch.objects.create(series=series, label="Forecasts")
    WeatherDay.objects.bulk_create(
        [
            WeatherDay(batch=batch, day=day, issued_on=issued, **values)
            for index, (issued, _values) in enumerate(days)
            for day, values in days[index : index + FORECAST_DAYS]
        ],
        batch_size=500,
    )


def _normals(days: Iterable[RecordDay]) -> list[tuple[int, float, float, float]]:
    """Return the record's monthly means, as a gardener would find in an almanac."""
    by_month: dict[int, list[list[float]]] = {month: [] for month in range(1, 13)}
    for day, values in days:
        numbers = [values[name] for name in ("tmin_c", "tmax_c", "rain_mm")]
        by_month[day.month].append([number or 0.0 for number in numbers])
    years = RECORD_DAYS / 365.25
    return [
        (
            month,
            round(float(np.mean([row[0] for row in rows])), 1),
            round(float(np.mean([row[1] for row in rows])), 1),
            round(float(np.sum([row[2] for row in rows])) / years, 1),
        )
        for month, rows in by_month.items()
    ]


def fill_trees(
    site: Site,
    blocks: Sequence[str],
    trees: Iterable[DemoTree],
    entered_on: date = FIRST_DAY,
) -> None:
    """Enter the trees of the demonstration, block by block in walking order.

    They are entered on ``entered_on``, or on the day they were planted, if later.
    """
    known = {name: block_named(site=site, name=name) for name in blocks}
    for tree in trees:
        values = {
            "tag": tree.tag,
            "name": tree.name,
            "species_key": tree.species_key,
            "block": known[tree.block],
            "planted_on": tree.planted_on,
            **tree.facts,
        }
        row = add_tree(site=site, values=values, today=max(tree.planted_on, entered_on))
        for place, since in tree.stays:
            put_pot(tree=row, place=place, since=since)


def planting_day(today: date) -> date:
    """Return the next planting day in spring that leaves time to get ready."""
    least = today + timedelta(days=LEAST_AHEAD_DAYS)
    day = date(least.year, PLANTING_MONTH, PLANTING_DAY)
    return day if day >= least else day.replace(year=least.year + 1)


def _plan_a_tree(site: Site, today: date, entered_on: date) -> None:
    tag, name, species_key, block = ALDER_ROW_PLANNED
    values = {
        "tag": tag,
        "name": name,
        "species_key": species_key,
        "block": block_named(site=site, name=block),
        "planted_on": planting_day(today),
        "stock": "bare_root",
    }
    add_tree(site=site, values=values, today=entered_on)


def _spray(site: Site, person: Person, on: date, now: datetime) -> None:
    log_spray(
        site=site,
        trees=[site.trees.get(name=SPRAYED_TREE)],
        product=SPRAY_PRODUCT,
        waiting_days=SPRAY_WAITING_DAYS,
        person=person,
        on=on,
        now=now,
        note="Invented for this demonstration; it advises no spray.",
    )


def _live(site: Site, person: Person, start: date, today: date, now: datetime) -> None:
    """Walk the months before today, ticking what the plan asked for every few days.

    So the log a visitor finds is what the program itself would have had done.
    """
    day = start
    while day < today:
        plan_site(site, day, now)
        due = Task.objects.filter(
            site=site,
            status=Task.Status.OPEN,
            is_firm=True,
            due__lte=day,
        ).select_related("tree", "site")
        for task in due.order_by("id"):
            complete_task(task=task, person=person, on=day, now=now)
        day += timedelta(days=WALK_EVERY_DAYS)
    plan_site(site, today, now)
