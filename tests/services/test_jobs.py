"""A job sent to a real worker plans a stale site, on files and on Redis alike."""

import os
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
pytestmark = pytest.mark.service

FOUND_A_SITE = """
from orchard.actions.people import found_orchard
from orchard.actions.places import add_site
from orchard.models import Person
person = Person.objects.create_user('someone')
orchard = found_orchard(person=person, name='Jobs')
add_site(orchard=orchard, values=dict(name='Jobs', latitude_deg=47.0, longitude_deg=8.0))
"""


def manage(environment: dict[str, str], *arguments: str) -> None:
    subprocess.run(
        [sys.executable, "manage.py", *arguments],
        cwd=ROOT,
        env=environment,
        check=True,
        capture_output=True,
        timeout=120,
    )


def planned_on(folder: Path) -> str | None:
    connection = sqlite3.connect(folder / "db.sqlite3", timeout=10)
    try:
        row = connection.execute("select planned_on from orchard_site").fetchone()
        return None if row[0] is None else str(row[0])
    finally:
        connection.close()


@pytest.fixture(params=["files", "redis"])
def environment(request, tmp_path) -> dict[str, str]:
    clean = {k: v for k, v in os.environ.items() if not k.startswith("ORCHARD_")}
    clean |= {
        "ORCHARD_DATA": str(tmp_path),
        "DJANGO_SETTINGS_MODULE": "deploy.settings",
        "PYTHONWARNINGS": "default",
    }
    if request.param == "redis":
        url = os.environ.get("ORCHARD_TEST_BROKER_URL")
        if not url:
            pytest.skip("Redis is not reachable: set ORCHARD_TEST_BROKER_URL")
        clean["ORCHARD_BROKER_URL"] = url
    return clean


def test_a_worker_plans_a_stale_site(environment, tmp_path):
    manage(environment, "migrate", "--verbosity", "0")
    manage(environment, "shell", "-c", FOUND_A_SITE)
    assert planned_on(tmp_path) is None
    celery = [sys.executable, "-m", "celery", "-A", "deploy"]
    worker = subprocess.Popen(
        [*celery, "worker", "--pool", "solo", "--without-gossip", "--without-mingle"],
        cwd=ROOT,
        env=environment,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        subprocess.run(
            [*celery, "call", "care.jobs.plan_stale_sites"],
            cwd=ROOT,
            env=environment,
            check=True,
            capture_output=True,
            timeout=60,
        )
        deadline = time.monotonic() + 60
        while planned_on(tmp_path) is None and time.monotonic() < deadline:
            time.sleep(0.2)
        assert planned_on(tmp_path) is not None
    finally:
        worker.terminate()
        worker.wait(20)
