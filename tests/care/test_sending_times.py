"""When what a phone sent is taken to have happened, whatever its clock says."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

from care.actions.logbook import observe
from care.models import LogEntry, Sending
from care.planning.forgotten import forgotten_until, is_forgotten
from orchard.models import Site
from tests.care.sending_phone import Phone

HERE = ZoneInfo("America/Los_Angeles")
HOURS = timedelta(hours=1)


@pytest.fixture
def grower(cast, client_of, site):
    Site.objects.filter(pk=site.pk).update(own_today=None)  # it lives by the clock
    return client_of(cast.grower)


def test_the_day_is_the_sites_own_when_it_happened(grower, make_tree):
    """Late in the evening there, another day in Greenwich."""
    tree = str(make_tree().public_id)
    phone = Phone(grower)
    evening = (datetime.now(HERE) - timedelta(days=2)).replace(hour=23, minute=30)
    kept = phone.keep("tree_note", tree=tree, note="Wasps")
    kept["happened_at"] = evening.astimezone(UTC).isoformat()
    phone.post(kept)
    entry = LogEntry.objects.get()
    assert entry.on == evening.date()
    assert entry.happened_at == evening
    assert entry.clock_off_s is None
    assert timezone.now() - entry.recorded_at < timedelta(minutes=1)
    log = grower.get("/s/test-site/log/").content.decode()
    assert "at 23:30, sent later" in log


@pytest.mark.parametrize("ahead_h", [3, -30, 24 * 365 * 73, -24 * 365 * 56])
def test_a_wrong_clock_is_put_right_and_marked(grower, make_tree, ahead_h):
    """One in 2099 and one in 1970 among them."""
    phone = Phone(grower, ahead_h=ahead_h)
    began = timezone.now()
    phone.send("tree_note", tree=str(make_tree().public_id), note="Wasps", ago_h=3)
    entry = LogEntry.objects.get()
    assert abs(entry.happened_at - (began - 3 * HOURS)) < timedelta(minutes=1)
    assert entry.on == entry.happened_at.astimezone(HERE).date()
    assert entry.clock_off_s == pytest.approx(
        max(-(2**31) + 1, min(2**31 - 1, ahead_h * 3600)), abs=60
    )
    where = "ahead" if ahead_h > 0 else "behind"
    assert f"{where}" in grower.get("/s/test-site/log/").content.decode()


def test_nothing_happens_in_the_future(grower, make_tree):
    phone = Phone(grower)
    phone.send("tree_note", tree=str(make_tree().public_id), note="Wasps", ago_h=-30)
    entry = LogEntry.objects.get()
    assert entry.happened_at == entry.recorded_at
    assert entry.on == timezone.now().astimezone(HERE).date()


def test_a_time_nobody_can_believe_becomes_now(grower, make_tree):
    phone = Phone(grower)
    kept = phone.keep("tree_note", tree=str(make_tree().public_id), note="Wasps")
    kept["happened_at"] = "1970-01-01T00:00:00+00:00"
    phone.post(kept)
    entry = LogEntry.objects.get()
    assert entry.on == timezone.now().astimezone(HERE).date()
    assert "years behind" in grower.get("/s/test-site/log/").content.decode()
    assert Sending.objects.get().happened_at == entry.recorded_at


def test_the_phone_is_told_the_same_when_its_clock_was_set_meanwhile(grower, make_tree):
    """The body is the same: only the time of the try differs."""
    kept = Phone(grower, ahead_h=3).keep(
        "tree_note", tree=str(make_tree().public_id), note="Wasps"
    )
    Phone(grower, ahead_h=3).post(kept)
    status, answer = Phone(grower).post(kept)
    assert (status, answer["state"]) == (200, "again")


def test_a_walk_begins_when_its_first_tick_was_made(
    grower, make_tree, make_task, make_round, site
):
    here = timezone.now().astimezone(HERE)
    task = make_task(make_tree())
    one = make_round(here.date(), [task])
    hours = min(2.0, here.hour / 2)  # so that it is of the same day
    Phone(grower).send("task_done", task=str(task.public_id), ago_h=hours)
    one.refresh_from_db()
    assert one.begun_at == LogEntry.objects.get().happened_at


def test_what_was_read_before_it_was_forgotten_teaches_nothing(grower, cast, make_tree):
    """Though it came after: the phone had no network meanwhile."""
    tree = make_tree()
    phone = Phone(grower)
    read = {"tree": str(tree.public_id), "form_what": "soil_feel", "word": "dry"}
    before = phone.keep("tree_observe", ago_h=3, **read)
    after = phone.keep("tree_observe", ago_h=1, **read)
    observe(
        tree=tree,
        what="demand_reset",
        person=cast.owner,
        on=timezone.now().date(),
        now=timezone.now() - 2 * HOURS,
    )
    entries = []
    for kept in (before, after):
        answer = phone.post(kept)[1]
        entries.append(LogEntry.objects.get(public_id=answer["entry"]))
    forgotten = forgotten_until(LogEntry.objects.all(), [tree])
    assert [is_forgotten(one, forgotten) for one in entries] == [True, False]


def test_a_note_of_a_hundred_kilobytes_is_refused_with_its_length(grower, make_tree):
    phone = Phone(grower)
    status, answer = phone.send(
        "tree_note", tree=str(make_tree().public_id), note="x" * 100_000
    )
    assert (status, list(answer["fields"])) == (422, ["note"])
    assert "2000" in answer["words"]
    assert "100000" in answer["words"]
