"""The cast of every page test: one orchard, each role in it, and a stranger."""

import os
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

import pytest
from django.db import connection
from django.test import Client
from hypothesis import HealthCheck, settings

from orchard.actions.people import found_orchard
from orchard.actions.places import add_site, block_named
from orchard.actions.trees import add_tree
from orchard.models import Membership, Person, Role, Site, Tree

settings.register_profile("ci", deadline=None, max_examples=60)
# For the second lane: what Python and Django change shows in few cases.
settings.register_profile("brief", deadline=None, max_examples=12)
settings.register_profile(
    "deep",
    deadline=None,
    max_examples=10_000,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "ci"))

TODAY = date(2025, 7, 2)
LONG_FOLDERS = {"story", "services", "browser"}
DATABASE_FIXTURES = {"db", "transactional_db", "django_db_setup", "live_server"}


def pytest_collection_modifyitems(
    config: pytest.Config, items: list[pytest.Item]
) -> None:
    """Say aloud what SQLite cannot show; run on PostgreSQL what asks a database.

    One SQLite connection in memory cannot show several. What touches no database is
    tried in the pass on SQLite. What takes longest begins first, so that nothing is
    waited for at the end.
    """
    items.sort(key=lambda item: not LONG_FOLDERS & set(item.path.parts))
    if connection.vendor == "postgresql":
        pure = [item for item in items if not asks_a_database(item)]
        config.hook.pytest_deselected(items=pure)
        items[:] = [item for item in items if asks_a_database(item)]
        return
    reason = "needs several connections: set ORCHARD_TEST_DATABASE_URL"
    for item in items:
        if item.get_closest_marker("postgresql"):
            item.add_marker(pytest.mark.skip(reason=reason))


def asks_a_database(item: pytest.Item) -> bool:
    """Whether a test may reach the database; without either, pytest-django bars it."""
    fixtures = getattr(item, "fixturenames", ())
    is_marked = item.get_closest_marker("django_db") is not None
    return is_marked or not DATABASE_FIXTURES.isdisjoint(fixtures)


@dataclass(frozen=True)
class Cast:
    """Everybody the access table knows, by what they are."""

    owner: Person
    coordinator: Person
    grower: Person
    viewer: Person
    stranger: Person  # owns another orchard


def person(name: str) -> Person:
    return Person.objects.create_user(
        name, password="a good long pass", first_name=name
    )


@pytest.fixture
def cast(site: Site) -> Cast:
    people = {role: person(role) for role in ("coordinator", "grower", "viewer")}
    for role, someone in people.items():
        Membership.objects.create(person=someone, orchard=site.orchard, role=Role(role))
    stranger = person("stranger")
    other = found_orchard(person=stranger, name="Somewhere else")
    add_site(
        orchard=other,
        values={"name": "Elsewhere", "latitude_deg": 10.0, "longitude_deg": 10.0},
    )
    owner = Person.objects.get(
        memberships__orchard=site.orchard, memberships__role="owner"
    )
    return Cast(owner=owner, stranger=stranger, **people)


@pytest.fixture
def site(db: None) -> Site:
    """A site whose own day is 2 July 2025, in a maritime temperate place."""
    orchard = found_orchard(person=person("owner"), name="Test orchard")
    site = add_site(
        orchard=orchard,
        values={
            "name": "Test site",
            "latitude_deg": 47.45,
            "longitude_deg": -122.31,
            "elevation_m": 120.0,
            "time_zone": "America/Los_Angeles",
            "soil_texture": "sandy_loam",
            "last_frost_month": 3,
            "last_frost_day": 20,
            "first_frost_month": 11,
            "first_frost_day": 10,
            "own_today": TODAY,
        },
    )
    block_named(site=site, name="Long row")
    return site


@pytest.fixture
def make_tree(site: Site) -> Callable[..., Tree]:
    """Enter a tree; every fact may be given, none must."""

    def make(
        name: str = "Apple by the gate", *, entered_on: date = TODAY, **values: object
    ) -> Tree:
        facts: dict[str, object] = {
            "name": name,
            "species_key": "apple",
            "planted_on": date(2020, 3, 1),
            "block": site.blocks.first(),
            "crown_width_m": 3.0,
            **values,
        }
        return add_tree(site=site, values=facts, today=entered_on)

    return make


@pytest.fixture
def client_of() -> Callable[[Person], Client]:
    """A browser in which that person is signed in."""

    def sign_in(someone: Person) -> Client:
        client = Client()
        client.force_login(
            someone, backend="allauth.account.auth_backends.AuthenticationBackend"
        )
        return client

    return sign_in
