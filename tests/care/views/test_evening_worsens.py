"""An evening that worsens is told once more, briefly; one that does not, is not."""

from datetime import UTC, datetime, timedelta

import pytest

from care.models import Task
from care.views import evening_messages
from care.views.evening_messages import write_evenings
from orchard.actions.messages import Told, choose_messages, why_not_now
from orchard.actions.places import add_site
from orchard.models import Message, OfficialWarning, Site
from tests.conftest import TODAY

FOUR = datetime(2025, 7, 2, 23, 0, tzinfo=UTC)
EIGHT = FOUR + timedelta(hours=4)


def forecast_at(site):
    series = site.private_series.create(kind="forecast", name="A forecast")
    site.readings.create(series=series, rank=9)
    batch = series.batches.create(label="forecast")

    def write(tmin_c):
        batch.days.update_or_create(
            day=TODAY + timedelta(days=1), issued_on=TODAY, defaults={"tmin_c": tmin_c}
        )

    return write


@pytest.fixture
def forecast(site):
    return forecast_at(site)


@pytest.fixture
def bring_in(make_tree, make_task, keep_plan):
    def ask(name):
        task = make_task(
            make_tree(name), kind="cold", action="move_in", is_urgent=True, unit=""
        )
        keep_plan()
        return task

    return ask


@pytest.fixture
def warn(site):
    def raise_it(event, number=1):
        OfficialWarning.objects.create(
            series=site.private_series.get(),
            identifier=f"urn:{number}",
            event=event,
            sent_at=FOUR,
            begins_at=EIGHT,
            ends_at=EIGHT + timedelta(hours=8),
            expires_at=EIGHT,
        )

    return raise_it


def titles():
    return [message.body["title"] for message in Message.objects.order_by("id")]


def test_a_forecast_that_turns_colder_at_eight_is_told_once_more(forecast, bring_in):
    forecast(-2.0)
    bring_in("Lemon")
    assert write_evenings(FOUR) == 1
    forecast(-3.4)
    assert write_evenings(EIGHT) == 0
    forecast(-4.0)
    assert write_evenings(EIGHT) == 1
    assert write_evenings(EIGHT + timedelta(minutes=10)) == 0
    assert titles()[1] == "Test site: colder than was said"
    assert Message.objects.last().body["lines"] == [
        "Test site becomes colder than was said: -4 °C instead of -2 °C. Look again at "
        "what you covered."
    ]


def test_who_has_done_everything_still_hears_of_a_colder_night(forecast, bring_in):
    forecast(-2.0)
    task = bring_in("Lemon")
    write_evenings(FOUR)
    Task.objects.filter(pk=task.pk).update(status=Task.Status.DONE)
    assert write_evenings(EIGHT) == 0
    forecast(-5.0)
    assert write_evenings(EIGHT) == 1


def test_who_was_told_of_no_cold_is_not_told_that_it_is_colder(
    forecast, keep_plan, site
):
    forecast(-2.0)
    keep_plan()
    assert write_evenings(FOUR) == 0
    forecast(-9.0)
    keep_plan()
    assert write_evenings(EIGHT) == 0


def test_a_new_tree_is_told_alone(forecast, bring_in):
    forecast(-2.0)
    bring_in("Lemon")
    write_evenings(FOUR)
    bring_in("Fig")
    assert write_evenings(EIGHT) == 1
    assert titles()[1] == "Test site: more to do this evening"
    lines = Message.objects.last().body["lines"]
    assert any(line.startswith("• Fig:") for line in lines)
    assert not any("Lemon" in line for line in lines)


def test_a_warning_newly_raised_is_told_alone_and_its_update_is_not(
    forecast, bring_in, warn
):
    forecast(-2.0)
    bring_in("Lemon")
    write_evenings(FOUR)
    warn("Freeze Warning")
    assert write_evenings(EIGHT) == 1
    assert titles()[1] == "Test site: new official warning"
    (line,) = Message.objects.last().body["lines"]
    assert line.startswith("Official: “Freeze Warning” Issued by A forecast")
    warn("Freeze Warning", 2)
    assert write_evenings(EIGHT) == 0


def test_a_warning_of_several_days_wakes_people_once(
    forecast, bring_in, warn, site, keep_plan
):
    warn("Heat Advisory")
    OfficialWarning.objects.update(ends_at=EIGHT + timedelta(days=3))
    keep_plan()
    assert write_evenings(FOUR) == 1
    day = TODAY + timedelta(days=1)
    Site.objects.filter(pk=site.pk).update(own_today=day, planned_on=day)
    assert write_evenings(FOUR + timedelta(days=1)) == 0
    warn("Severe Thunderstorm Warning", 2)
    OfficialWarning.objects.update(ends_at=EIGHT + timedelta(days=3))
    assert write_evenings(FOUR + timedelta(days=1)) == 1


def test_cold_that_comes_after_a_warning_says_how_cold(forecast, bring_in, warn):
    forecast(-2.0)
    warn("High Wind Warning")
    bring_in("Lemon").delete()
    assert write_evenings(FOUR) == 1
    bring_in("Fig")
    assert write_evenings(EIGHT) == 1
    lines = Message.objects.last().body["lines"]
    assert lines[0] == "-2 °C is likely tomorrow morning, by the forecast."


def test_of_two_workers_at_once_one_writes(forecast, bring_in, monkeypatch):
    forecast(-2.0)
    bring_in("Lemon")
    blind = evening_messages._told_before
    assert write_evenings(FOUR) == 1
    # The second read what was told before the first had written it.
    monkeypatch.setattr(
        evening_messages, "_told_before", lambda members, _: blind(members, "nothing")
    )
    assert write_evenings(FOUR) == 0
    assert Message.objects.count() == 1


def test_two_sites_of_one_orchard_are_one_message(
    forecast, bring_in, site, make_tree, make_task
):
    forecast(-2.0)
    bring_in("Lemon")
    values = {"name": "Quay", "latitude_deg": -37.0, "longitude_deg": 175.0}
    quay = add_site(
        orchard=site.orchard,
        values={**values, "time_zone": site.time_zone, "own_today": TODAY},
    )
    tree = make_tree("Lime")
    task = make_task(tree, kind="cold", action="cover", is_urgent=True)
    type(tree).objects.filter(pk=tree.pk).update(site=quay, block=None)
    Task.objects.filter(pk=task.pk).update(site=quay)
    for one in (site, quay):
        one.refresh_from_db()
        Site.objects.filter(pk=one.pk).update(
            planned_revision=one.revision, planned_on=TODAY
        )
    assert write_evenings(FOUR) == 1
    body = Message.objects.get().body
    assert body["title"] == "Test site and Quay: 2 things to do before the cold"
    assert [line for line in body["lines"] if line in ("Test site:", "Quay:")] == [
        "Test site:",
        "Quay:",
    ]


def test_a_message_of_two_kinds_is_sent_while_one_of_them_is_wanted(
    forecast, bring_in, warn, site
):
    forecast(-2.0)
    warn("Freeze Warning")
    bring_in("Lemon")
    write_evenings(FOUR)
    message = Message.objects.get()
    person = message.person
    choose_messages(person=person, wanted=[Told.OFFICIAL_WARNING])
    assert why_not_now(message, FOUR) == ""
    choose_messages(person=person, wanted=[Told.HEAT])
    assert why_not_now(message, FOUR) == "Switched off meanwhile."
