"""Local watering rules from the record to the plan, the round and a person's word."""

from datetime import UTC, date, datetime, timedelta

import pytest

from care.actions.tasks import postpone_task, skip_task
from care.models import Task
from care.planning.gather import gather
from care.planning.plan_site import plan_site
from orchard.actions.places import change_site
from orchard.actions.watering_rules import RuleValues
from orchard.actions.weather import set_normals
from tests.conftest import TODAY

DAY = timedelta(days=1)
NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)
DRY = [(month, 12.0, 30.0, 2.0) for month in range(1, 13)]
WEDNESDAY, FRIDAY = "2", "4"  # TODAY is a Wednesday


@pytest.fixture
def ruled(site):
    """Let the site water on some weekdays of summer only."""

    def rule(weekdays, **values):
        set_normals(site=site, months=DRY)
        given = RuleValues(5, 1, 9, 30, weekdays=weekdays, **values)
        change_site(site=site, values={}, watering_rules=[given])
        site.refresh_from_db()

    return rule


@pytest.fixture
def make_pot(make_tree):
    def make(name):
        return make_tree(
            name,
            species_key="lemon",
            in_container=True,
            container_litres=50.0,
            container_diameter_m=0.4,
            crown_width_m=1.0,
        )

    return make


def watering(site, tree):
    site.refresh_from_db()
    plan_site(site, TODAY, NOW)
    return Task.objects.get(tree=tree, kind="watering", key="next", status="open")


def test_a_rule_is_read_as_a_fact(site, ruled):
    ruled("25", spares_containers=True, source="County order 7")
    (rule,) = gather(site, TODAY).site.watering_rules
    assert rule.weekdays == {2, 5}
    assert (rule.spares_containers, rule.spares_hand_watering) == (True, False)
    assert rule.source == "County order 7"
    assert not rule.allows(date(2025, 7, 3))
    assert rule.allows(date(2025, 10, 2))


def test_a_thirsty_pot_on_a_forbidden_day_asks_for_leave(
    site, ruled, make_pot, cast, client_of
):
    ruled("")
    pots = [make_pot("Lemon"), make_pot("Lime")]
    task = watering(site, pots[0])
    assert (task.action, task.due) == ("water_by_leave", TODAY)
    page = client_of(cast.grower).get("/s/test-site/").content.decode()
    assert "Water Lemon, but only with leave" in page
    assert "All 2 watered" not in page
    assert "All 2 done" not in page


def test_an_allowed_day_keeps_its_round(site, ruled, make_pot):
    ruled(WEDNESDAY)
    task = watering(site, make_pot("Lemon"))
    assert (task.action, task.due, task.round.day) == ("water", TODAY, TODAY)


def test_a_skip_and_a_put_off_watering_move_on_to_an_allowed_day(site, ruled, make_pot):
    ruled("24")
    pot = make_pot("Lemon")
    task = watering(site, pot)
    skip_task(task=task, person=None, on=TODAY, now=NOW, reason="still_wet")
    held = watering(site, pot)
    assert held.due > TODAY
    assert held.due.weekday() in (2, 4) or held.action == "water_by_leave"
    until = TODAY + 3 * DAY  # a Saturday
    postpone_task(task=held, until=until)
    later = watering(site, pot)
    assert later.due >= until
    assert later.due.weekday() in (2, 4) or later.action == "water_by_leave"


def test_without_rules_a_plan_is_what_it_was(site, ruled, make_pot):
    pot = make_pot("Lemon")
    ruled("", spares_containers=True)
    spared = watering(site, pot)
    change_site(site=site, values={}, watering_rules=[])
    free = watering(site, pot)
    for name in ("action", "earliest", "due", "latest", "amount", "reason"):
        assert getattr(spared, name) == getattr(free, name)
