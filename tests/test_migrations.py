"""The tables can be made from nothing and match the models."""

import io

import pytest
from django.core.management import call_command
from django.db import connection


@pytest.mark.django_db
def test_no_model_change_lacks_a_migration():
    out = io.StringIO()
    call_command("makemigrations", check_changes=True, dry_run=True, stdout=out)
    assert "No changes detected" in out.getvalue()


@pytest.mark.django_db
def test_every_table_of_the_models_exists():
    tables = set(connection.introspection.table_names())
    assert {"orchard_person", "orchard_site", "care_task", "care_round"} <= tables
