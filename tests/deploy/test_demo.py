"""The demonstration lives inside its record and can be taken away whole."""

import io
import json
from datetime import date, timedelta
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone

from care.models import LogEntry, Round, Task
from care.planning.gather import gather
from care.planning.gather_layout import layout_facts
from care.planning.layout_check import layout_check
from care.planning.offers import gather_offers
from care.views.photo_lines import side_by_side
from deploy.demo.load import (
    RECORD_DAYS,
    clear_demo,
    load_demo,
    planting_day,
    record_days,
    shift_days,
)
from deploy.demo.people_days import offer_the_days
from deploy.demo.plan import draw_plan
from deploy.demo.planting import want_a_planting
from orchard.models import Orchard, Person, Site, Tree

pytestmark = pytest.mark.django_db

TODAY = date(2014, 7, 1)
REAL_DAY = TODAY + timedelta(days=3 * RECORD_DAYS)


@pytest.fixture(scope="module")
def loaded(django_db_setup, django_db_blocker):
    """Load it once; what a test changes is rolled back behind it."""
    with django_db_blocker.unblock():
        yield load_demo(REAL_DAY, timezone.now(), lived_days=3)
        clear_demo()


def said(command: str, *arguments: str, **options: Any) -> dict[str, Any]:
    out = io.StringIO()
    call_command(command, *arguments, json=True, stdout=out, **options)
    answer: dict[str, Any] = json.loads(out.getvalue())
    assert answer["schema"] == 1
    return answer


def test_the_record_is_four_whole_years():
    days = [day for day, _values in record_days()]
    assert len(days) == RECORD_DAYS
    assert days == [date(2012, 1, 1) + timedelta(days=n) for n in range(RECORD_DAYS)]


@pytest.mark.parametrize(
    "real", [date(2026, 11, 25), date(2028, 2, 29), date(2040, 7, 1)]
)
def test_every_real_day_has_its_day_inside_the_record(real):
    shift = shift_days(real)
    assert shift % RECORD_DAYS == 0
    assert date(2012, 1, 1) <= real - timedelta(days=shift) <= date(2015, 12, 31)


def test_it_opens_on_the_real_day_shifted_back_by_whole_records(loaded):
    site = Site.objects.get(slug="alder-row")
    assert site.own_today == date(2014, 7, 1)
    assert site.calendar_shift_days == 3 * RECORD_DAYS


def test_it_has_pots_and_freshly_planted_trees(loaded):
    trees = Tree.objects.filter(site__slug="alder-row")
    assert trees.filter(in_container=True).count() >= 6
    year_before = date(2013, 7, 1)
    assert trees.filter(planted_on__range=(year_before, date(2014, 7, 1))).count() >= 3


def test_it_has_a_tree_still_to_be_planted_and_a_staked_young_one(loaded):
    site = Site.objects.get(slug="alder-row")
    planned = [tree.name for tree in site.trees.all() if tree.is_planned(TODAY)]
    assert planned == ["Mulberry to come"]
    assert site.trees.get(name="New peach").support == Tree.Support.STAKE


@pytest.mark.parametrize(
    ("today", "planted_on"),
    [
        (date(2014, 7, 1), date(2015, 3, 7)),
        (date(2014, 2, 14), date(2014, 3, 7)),
        (date(2014, 2, 15), date(2015, 3, 7)),
        (date(2015, 12, 31), date(2016, 3, 7)),
    ],
)
def test_the_tree_to_come_is_planted_in_spring_with_time_to_get_ready(
    today, planted_on
):
    assert planting_day(today) == planted_on


def test_its_plan_has_a_place_for_every_tree_and_one_mistake_on_purpose(loaded):
    site = Site.objects.get(slug="alder-row")
    assert not site.trees.filter(x_m=None).exists()
    assert {corner.name for corner in site.corners.all()} == {"A", "B", "Shed"}
    draw_plan(site)  # a second time it leaves everything alone
    assert site.features.count() == 7
    layout = layout_facts(site, TODAY)
    (conflict,) = layout_check(layout).conflicts
    names = {plant.ref: plant.name for plant in layout.plants}
    assert (conflict.code, names[conflict.who]) == ("near_wires", "Apple by the shed")


def test_it_has_a_planting_that_is_still_a_wish_and_asks_for_nothing(loaded):
    site = Site.objects.get(slug="alder-row")
    want_a_planting(site, TODAY)  # a second time it leaves everything alone
    (planting,) = site.plantings.all()
    wanted = planting.wanted.all()
    assert [one.tree for one in wanted] == [None, None]
    assert [(one.plant_on, one.x_m) for one in wanted] == [(None, None)] * 2
    assert not Site.objects.get(slug="quay-steps").plantings.exists()


def test_its_members_offer_days_and_rounds_fall_on_them(loaded):
    site = Site.objects.get(slug="alder-row")
    offer_the_days(site, timezone.now())  # a second time it leaves everything alone
    offers = gather_offers(site.orchard, TODAY, date(2015, 12, 31))
    assert {one.name: {day.weekday() for day in one.days} for one in offers} == {
        "Marta": {2, 5},
        "Tomas": {5, 6},
        "Ines": {6},
    }
    assert {one.name for one in offers if "ladder" in one.skills} == {"Marta", "Ines"}
    assert site.way_in.gate
    assert [one.phone for one in site.emergency_contacts.all()] == ["555-0142"]
    offered = {day for one in offers for day in one.days}
    ahead = Round.objects.filter(site=site, day__gt=TODAY, is_withdrawn=False)
    days = set(ahead.values_list("day", flat=True))
    assert days
    assert days <= offered  # each window then has a day that somebody offered


def test_a_spray_holds_the_fruit_of_one_tree(loaded):
    site = Site.objects.get(slug="alder-row")
    (hold,) = gather(site, TODAY).holds
    # Sprayed three days ago with ten days to wait.
    assert (hold.on, hold.until) == (date(2014, 6, 28), date(2014, 7, 7))
    assert site.trees.get(pk=hold.tree_id).name == "Sour cherry"


def test_soil_hose_and_feed_are_known(loaded):
    site = gather(Site.objects.get(slug="alder-row"), TODAY).site
    assert site.soil_test is not None
    assert site.hose_flow_l_per_min == pytest.approx(15.0)  # 10 L in 40 s
    assert site.feed_density_g_per_ml is not None


def test_both_sites_are_planned_and_ticked_by_what_the_program_asked(loaded):
    assert loaded == ["alder-row", "quay-steps"]
    assert Task.objects.filter(site__slug="alder-row").exists()
    assert LogEntry.objects.filter(site__slug="alder-row", task__isnull=False).exists()


def test_clearing_leaves_nothing(loaded):
    assert clear_demo() == 2
    for model in (Orchard, Site, Tree, Task, Round, LogEntry, Person):
        assert not model.objects.exists()


def test_loading_once_leaves_a_used_program_alone():
    clear_demo()  # of the other tests
    Person.objects.create_user("somebody")
    assert said("demo", "load", once=True)["loaded"] == []
    assert not Orchard.objects.exists()


PLAN_KEYS = {
    "tree",
    "species",
    "kind",
    "key",
    "earliest",
    "due",
    "latest",
    "amount",
    "unit",
    "firm",
    "reason",
    "sources",
    "cautions",
}


def test_plan_prints_its_pinned_keys_and_stays_inside_the_days(loaded):
    answer = said("plan", site="alder-row", days=10)
    assert answer["tasks"]
    for task in answer["tasks"]:
        assert set(task) >= PLAN_KEYS
        assert task["earliest"] <= task["due"] <= task["latest"]
        assert task["earliest"] <= "2014-07-11"
    dues = [task["due"] for task in answer["tasks"]]
    assert dues == sorted(dues)


def test_planning_for_another_day_never_writes(loaded):
    before = list(Task.objects.order_by("pk").values())
    said("plan", site="alder-row", on="2014-09-01")
    said("rounds", site="alder-row", on="2014-09-01", days=14)
    assert list(Task.objects.order_by("pk").values()) == before


def test_rounds_prints_its_pinned_keys(loaded):
    answer = said("rounds", site="alder-row", days=14)
    assert answer["rounds"]
    for one in answer["rounds"]:
        assert set(one) == {"day", "block", "tasks", "minutes", "urgent"}
        assert one["minutes"] > 0


def test_a_day_is_planned_the_same_whatever_came_later(loaded):
    before = said("plan", site="alder-row", on="2013-06-10")
    site = Site.objects.get(slug="alder-row")
    site.own_today = date(2015, 6, 10)
    site.save()
    assert said("plan", site="alder-row", on="2013-06-10") == before


@pytest.mark.parametrize("command", ["plan", "rounds"])
def test_a_wrong_site_or_day_is_said_plainly(loaded, command):
    with pytest.raises(CommandError, match="no site 'nowhere'"):
        call_command(command, site="nowhere")
    with pytest.raises(CommandError, match="Write it as"):
        call_command(command, site="alder-row", on="July")


def test_a_signin_link_is_printed_for_a_person(loaded):
    assert "/signin/" in said("signin_link", "marta")["url"]
    with pytest.raises(CommandError, match="Nobody is called"):
        call_command("signin_link", "nobody")


def test_one_tree_was_photographed_through_its_seasons(loaded):
    site = Site.objects.get(slug="alder-row")
    photos = list(site.photos.all())
    assert len(photos) == 8
    assert all(photo.on <= site.today(timezone.now()) for photo in photos)
    assert all("drawn for this demonstration" in photo.caption for photo in photos)
    assert len({photo.sha256 for photo in photos}) == 8
    for season in side_by_side(photos, site.latitude_deg, photos[0].on):
        assert len(season.photos) >= 2
