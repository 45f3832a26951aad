"""``manage.py fetch_weather``: what it asks, what it prints, and when it refuses."""

import json
from datetime import UTC, datetime
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from orchard import jobs
from orchard.actions.weather_asking import Outcome
from orchard.management.commands import fetch_weather

WAIT = datetime(2026, 3, 1, 21, 7, tzinfo=UTC)
OUTCOMES = [
    Outcome(1, "us", "47.45,-122.31,100,UTC", "new", "", WAIT),
    Outcome(2, "us", "21.3,-157.9,0,UTC", "failed", "Nobody there.", WAIT),
]


@pytest.fixture
def asked(monkeypatch, settings):
    settings.ORCHARD_CONTACT = "garden@example.org"
    known = []

    def ask_due(*, now, is_everything=False):
        known.append(is_everything)
        return OUTCOMES

    monkeypatch.setattr(fetch_weather, "ask_due", ask_due)
    monkeypatch.setattr(jobs, "ask_due", ask_due)
    return known


def run(*arguments):
    out = StringIO()
    call_command("fetch_weather", *arguments, stdout=out)
    return out.getvalue()


def test_each_answer_is_a_line(asked):
    assert run().splitlines() == [
        "us 47.45,-122.31,100,UTC: something new; again 2026-03-01 21:07 UTC",
        "us 21.3,-157.9,0,UTC: no good answer (Nobody there.); "
        "again 2026-03-01 21:07 UTC",
    ]
    assert asked == [False]


def test_programs_read_it_too(asked):
    found = json.loads(run("--json", "--now"))
    assert found["schema"] == 1
    assert found["asked"][1]["words"] == "Nobody there."
    assert asked == [True]


def test_nothing_due_is_said(asked, monkeypatch):
    monkeypatch.setattr(fetch_weather, "ask_due", lambda **_: [])
    assert run() == "Nothing was due.\n"


def test_without_a_contact_it_says_how_to_set_one(settings):
    settings.ORCHARD_CONTACT = ""
    with pytest.raises(CommandError, match="ORCHARD_CONTACT"):
        run()


def test_the_job_asks_for_what_is_due(asked):
    assert jobs.fetch_weather() == 2
    assert asked == [False]
