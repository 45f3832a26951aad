"""The command that prints a proposed rota, and writes nothing."""

import json
from datetime import timedelta
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from care.models import HandOver, ShiftPlace
from tests.care.rota_garden import MONDAY, SATURDAY, draft, helper


def said(*words):
    out = StringIO()
    call_command("rota", *words, stdout=out)
    return out.getvalue()


def test_it_says_who_would_come_and_why_places_stay_open(site):
    helper(site, "Ana", weekdays=[5])
    draft(site, SATURDAY, ("", "", ""))
    draft(site, SATURDAY + timedelta(days=28))
    words = ("--site", site.slug, "--from", MONDAY.isoformat(), "--weeks", "4")
    answer = json.loads(said(*words, "--dry-run", "--json"))
    assert answer["schema"] == 1
    (shift,) = answer["shifts"]
    assert shift["day"] == SATURDAY.isoformat()
    assert (shift["round"], shift["needed"]) == ("Watering", 3)
    assert (shift["people"], shift["open_places"]) == (["Ana"], 2)
    assert len(shift["why_open"]) == 2
    ana = next(one for one in answer["load"] if one["person"] == "Ana")
    assert (ana["shifts"], ana["fair_share"]) == (1.0, 3.0)
    plain = said(*words)
    assert f"{SATURDAY}  Watering: Ana" in plain
    assert "    open: Ana is on a shift that day already." in plain
    assert not HandOver.objects.exists()
    assert not ShiftPlace.objects.exclude(state="open").exists()


def test_what_it_is_asked_must_make_sense(site):
    for wrong in (
        ["--weeks", "0"],
        ["--weeks", "99"],
        ["--from", "June"],
        ["--from", "9999-12-31"],
    ):
        with pytest.raises(CommandError):
            said("--site", site.slug, *wrong)
