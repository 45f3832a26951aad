"""A job sent to a real worker plans a stale site, on files and on Redis alike."""

import pytest

from tests.services.real_worker import ask, call, manage, wait_until, worker

pytestmark = pytest.mark.service

FOUND_A_SITE = """
from orchard.actions.people import found_orchard
from orchard.actions.places import add_site
from orchard.models import Person
person = Person.objects.create_user('someone')
orchard = found_orchard(person=person, name='Jobs')
add_site(orchard=orchard, values=dict(name='Jobs', latitude_deg=47.0, longitude_deg=8.0))
"""


def is_planned(folder):
    return ask(folder, "select planned_on from orchard_site") != [(None,)]


def test_a_worker_plans_a_stale_site(environment, tmp_path):
    manage(environment, "shell", "-c", FOUND_A_SITE)
    assert not is_planned(tmp_path)
    with worker(environment, tmp_path / "worker.log"):
        call(environment, "care.jobs.plan_stale_sites")
        assert wait_until(lambda: is_planned(tmp_path))
