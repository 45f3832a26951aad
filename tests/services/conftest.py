"""Where the programs keep their data, and which broker they use."""

import os

import pytest


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
