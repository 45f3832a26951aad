"""Where the programs keep their data, and which broker they use."""

import os
import shutil
from pathlib import Path

import pytest

from tests.services.real_worker import manage

#: As many as a Redis has unless told otherwise.
REDIS_DATABASES = 16


def environment_of(folder: Path) -> dict[str, str]:
    clean = {k: v for k, v in os.environ.items() if not k.startswith("ORCHARD_")}
    return clean | {
        "ORCHARD_DATA": str(folder),
        "DJANGO_SETTINGS_MODULE": "deploy.settings",
        "PYTHONWARNINGS": "default",
    }


def own_queue(url: str) -> str:
    """Return the broker's database that this process of the tests has to itself.

    Workers of two tests that share a queue would take each other's jobs.
    """
    number = int(os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw"))
    server, _, database = url.rpartition("/")
    return f"{server}/{(int(database) + number) % REDIS_DATABASES}"


@pytest.fixture(scope="session")
def empty_database(tmp_path_factory) -> Path:
    """A database with all its tables and nothing in them, made once."""
    folder: Path = tmp_path_factory.mktemp("empty")
    manage(environment_of(folder), "migrate", "--verbosity", "0")
    return folder / "db.sqlite3"


@pytest.fixture(params=["files", "redis"])
def environment(request, tmp_path, empty_database) -> dict[str, str]:
    shutil.copy(empty_database, tmp_path)
    clean = environment_of(tmp_path)
    if request.param == "redis":
        url = os.environ.get("ORCHARD_TEST_BROKER_URL")
        if not url:
            pytest.skip("Redis is not reachable: set ORCHARD_TEST_BROKER_URL")
        clean["ORCHARD_BROKER_URL"] = own_queue(url)
    return clean
