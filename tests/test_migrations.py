"""The tables are made from nothing by the migrations, and match the models.

The other tests make their tables from the models, which takes a tenth of the time.
"""

import io
import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from django.core.management import call_command
from django.db import connection

ROOT = Path(__file__).parent.parent


@pytest.mark.django_db
def test_no_model_change_lacks_a_migration():
    out = io.StringIO()
    call_command("makemigrations", check_changes=True, dry_run=True, stdout=out)
    assert "No changes detected" in out.getvalue()


@pytest.mark.django_db
def test_the_migrations_make_the_columns_of_the_models(tmp_path):
    settings = {
        "ORCHARD_DATA": str(tmp_path),
        "ORCHARD_BASE_URL": "http://localhost:8000",
        "DJANGO_SETTINGS_MODULE": "deploy.settings",
        "PATH": os.environ["PATH"],
    }
    made = subprocess.run(
        [sys.executable, "manage.py", "migrate", "-v0"],
        cwd=ROOT,
        env=settings,
        capture_output=True,
        text=True,
        check=False,
    )
    assert made.returncode == 0, made.stderr
    ours = {
        name
        for name in connection.introspection.table_names()
        if name.startswith(("orchard_", "care_"))
    }
    assert len(ours) > 40
    with closing(sqlite3.connect(tmp_path / "db.sqlite3")) as migrated:
        asked = "SELECT name FROM sqlite_master WHERE type = 'table'"
        tables = {name for (name,) in migrated.execute(asked)}
        assert ours <= tables
        with connection.cursor() as cursor:
            for table in sorted(ours):
                by_models = connection.introspection.get_table_description(
                    cursor, table
                )
                by_migrations = {
                    row[1] for row in migrated.execute(f"PRAGMA table_info({table})")
                }
                assert {column.name for column in by_models} == by_migrations, table
