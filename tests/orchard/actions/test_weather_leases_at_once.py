"""Workers that reach for the same fetches, and people who choose, at one instant."""

from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from threading import Barrier

import pytest
from django.db import connection

from orchard.actions.arriving_weather import due_fetches, take_lease
from orchard.actions.people import found_orchard
from orchard.actions.places import add_site
from orchard.actions.weather_services import choose_source
from orchard.models import Person, SiteSeries

NOW = datetime(2026, 3, 1, 16, 0, tzinfo=UTC)
WORKERS = 4


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_each_fetch_is_leased_by_one_of_four_workers():
    orchard = found_orchard(person=Person.objects.create_user("p"), name="Places")
    for number in range(12):
        values = {"name": f"P{number}", "latitude_deg": number, "longitude_deg": 9.0}
        choose_source(site=add_site(orchard=orchard, values=values), key="norwegian")
    start = Barrier(WORKERS)

    def work(_: int) -> list[int]:
        try:
            due = due_fetches(NOW)
            start.wait(10)
            return [pk for pk, _ in due if take_lease(pk, NOW) is not None]
        finally:
            connection.close()

    with ThreadPoolExecutor(WORKERS) as pool:
        taken = Counter(pk for pks in pool.map(work, range(WORKERS)) for pk in pks)
    assert set(taken.values()) == {1}
    assert len(taken) == 12


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_of_people_who_choose_at_once_the_last_one_decides():
    orchard = found_orchard(person=Person.objects.create_user("p"), name="Places")
    values = {"name": "Here", "latitude_deg": 47.0, "longitude_deg": -122.0}
    site = add_site(orchard=orchard, values=values)
    start = Barrier(WORKERS)

    def work(number: int) -> str:
        try:
            start.wait(10)
            return choose_source(site=site, key=("us", "columns")[number % 2]).source
        finally:
            connection.close()

    with ThreadPoolExecutor(WORKERS) as pool:
        assert sorted(pool.map(work, range(WORKERS))) == ["columns"] * 2 + ["us"] * 2
    assert SiteSeries.objects.get().series.source in {"us", "columns"}
