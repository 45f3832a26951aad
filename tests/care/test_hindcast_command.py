"""The look back as scripts ask for it."""

import json
from datetime import timedelta

import pytest
from django.core.management import CommandError, call_command

from care.models import Hindcast
from orchard.actions.weather import import_days
from tests.conftest import TODAY

KEYS = ["schema", "coverage_p10_p90", "by_kind", "by_lead_days"]


def days_of_weather(site, count):
    days = [
        (
            TODAY - n * timedelta(days=1),
            {"tmin_c": n % 7 + 1.0, "tmax_c": n % 11 + 9.0, "rain_mm": float(n % 3)},
        )
        for n in range(1, count + 1)
    ]
    import_days(site=site, days=days, label="x", person=None)


@pytest.fixture
def two_mondays(monkeypatch):
    monkeypatch.setattr(
        "care.planning.hindcast_record.Record.mondays",
        property(lambda record: [record.last - timedelta(days=n) for n in (141, 134)]),
    )


@pytest.mark.usefixtures("two_mondays")
def test_it_prints_nothing_but_the_report_and_keeps_it(site, capsys):
    days_of_weather(site, 640)
    call_command("hindcast", "--site", site.slug, "--json")
    printed = json.loads(capsys.readouterr().out)
    assert list(printed)[:4] == KEYS
    assert printed["schema"] == 1
    assert 0 <= printed["coverage_p10_p90"] <= 1
    assert list(printed["by_kind"]) == sorted(printed["by_kind"])
    assert printed["by_lead_days"]["0-7"]["count"] >= 0
    kept = Hindcast.objects.get(site=site)
    assert {"schema": 1, **kept.report} == printed


@pytest.mark.usefixtures("two_mondays")
def test_a_dry_run_keeps_nothing_and_people_get_a_table(site, capsys):
    days_of_weather(site, 640)
    call_command("hindcast", "--site", site.slug, "--dry-run")
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].split() == ["ranges", "held", "off", "late", "wide"]
    assert lines[1].startswith("all ")
    assert any(line.startswith("watering_pot") for line in lines)
    assert not Hindcast.objects.exists()


def test_a_short_record_is_an_error_and_prints_no_report(site, capsys):
    days_of_weather(site, 30)
    with pytest.raises(CommandError, match="less than a year"):
        call_command("hindcast", "--site", site.slug, "--json")
    assert capsys.readouterr().out == ""


@pytest.mark.django_db
def test_an_unknown_site_is_an_error():
    with pytest.raises(CommandError, match="no site"):
        call_command("hindcast", "--site", "nowhere")
