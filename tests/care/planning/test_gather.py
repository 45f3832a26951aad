"""Rows become facts, strictly as of a morning, in a constant number of queries."""

from datetime import UTC, datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from care.actions.logbook import observe
from care.actions.tasks import take_back
from care.facts import Goal, Hold, HoldCause, NitrogenAdvice, SoilTest, Support
from care.models import LogEntry
from care.planning.forgotten import FORGET_DEMAND as FORGET
from care.planning.gather import by_tree, gather, site_facts
from care.planning.propose import propose, situations
from orchard.actions.places import change_site
from orchard.actions.weather import type_reading
from orchard.models import Clump, FrostEvening
from tests.conftest import TODAY

DAY = timedelta(days=1)
NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)


def spray(tree, **values):
    facts = {"on": TODAY, "held_until": TODAY + 6 * DAY, "product": "Soap", **values}
    return LogEntry.objects.create(
        site=tree.site, tree=tree, what="done", kind="spray", recorded_at=NOW, **facts
    )


def test_a_soil_test_counts_once_it_has_a_day(site):
    change_site(site=site, values={"soil_ph": 5.4, "soil_nitrogen": "half"})
    assert site_facts(site).soil_test is None
    change_site(site=site, values={"soil_tested_on": TODAY})
    assert site_facts(site).soil_test == SoilTest(TODAY, 5.4, NitrogenAdvice.HALF)


def test_the_hoses_flow_comes_from_the_bucket_that_was_timed(site):
    assert site_facts(site).hose_flow_l_per_min is None
    change_site(site=site, values={"hose_bucket_l": 10.0, "hose_bucket_s": 40.0})
    assert site_facts(site).hose_flow_l_per_min == pytest.approx(15.0)


def test_what_is_said_of_water_and_feed_reaches_the_rules(site):
    change_site(
        site=site,
        values={
            "is_water_salty": True,
            "has_high_water_table": True,
            "water_setback_m": 3.0,
            "feed_density_g_per_ml": 0.9,
        },
    )
    facts = site_facts(site)
    assert (facts.is_water_salty, facts.has_high_water_table) == (True, True)
    assert (facts.water_setback_m, facts.feed_density_g_per_ml) == (3.0, 0.9)


def test_what_is_said_of_a_tree_reaches_the_rules(site, make_tree):
    make_tree(
        goal="survival",
        drip_l_per_h=12.0,
        drainage_hours=30.0,
        soil_ph=4.8,
        water_distance_m=7.0,
        support="permanent",
        has_trunk_guard=True,
        is_grafted=False,
    )
    (tree,) = gather(site, TODAY).trees
    assert (tree.goal, tree.support) == (Goal.SURVIVAL, Support.PERMANENT)
    assert tree.drip_flow_l_per_min == pytest.approx(0.2)
    assert (tree.drainage_hours, tree.soil_ph, tree.water_distance_m) == (30, 4.8, 7)
    assert (tree.has_trunk_guard, tree.is_grafted) == (True, False)


def test_what_forbids_picking_is_a_hold_of_its_tree(site, make_tree):
    tree, other = make_tree(), make_tree("Other")
    spray(tree)
    (hold,) = gather(site, TODAY).holds
    assert hold == Hold(tree.pk, HoldCause.SPRAY, TODAY, TODAY + 6 * DAY, "Soap")
    held = {one.tree.id: one.held_until() for one in situations(gather(site, TODAY))}
    assert held == {tree.pk: hold, other.pk: None}


@pytest.mark.parametrize(
    "values", [{"voided_at": NOW}, {"held_until": None}, {"on": TODAY + DAY}]
)
def test_an_entry_taken_back_without_waiting_or_to_come_holds_nothing(
    site, make_tree, values
):
    spray(make_tree(), **values)
    assert gather(site, TODAY).holds == ()


def test_this_evenings_reading_is_at_hand_tonight_alone(site, make_tree):
    make_tree(entered_on=TODAY - DAY)
    FrostEvening.objects.create(site=site, on=TODAY, air_c=3.0, dew_point_c=-1.5)
    read = {
        day: (one.tonight_evening_c, one.tonight_dew_point_c)
        for day in (TODAY - DAY, TODAY, TODAY + DAY)
        for one in situations(gather(site, day))
    }
    assert read == {
        TODAY - DAY: (None, None),
        TODAY: (3.0, -1.5),
        TODAY + DAY: (None, None),
    }


def test_litres_until_a_pot_drained_are_a_reading(site, make_tree):
    tree = make_tree()
    observe(
        tree=tree, what="drained_after_l", person=None, on=TODAY, now=NOW, value=4.0
    )
    (reading,) = gather(site, TODAY).observations
    assert (reading.what, reading.value) == ("drained_after_l", 4.0)


def test_what_was_learned_is_forgotten_by_the_clump_and_remembered_once_undone(
    site, make_tree
):
    clump = Clump.objects.create(site=site, name="Pair")
    mates = [make_tree(name, clump=clump) for name in ("One", "Two")]
    alone = make_tree("Alone")
    for tree in (*mates, alone):
        observe(tree=tree, what="soil_feel", person=None, on=TODAY, now=NOW, word="dry")
    entry = observe(
        tree=mates[0],
        what=FORGET,
        person=None,
        on=TODAY,
        now=NOW + timedelta(minutes=1),
    )
    observe(
        tree=mates[1],
        what="soil_feel",
        person=None,
        on=TODAY,
        now=NOW + timedelta(minutes=2),
        word="wet",
    )

    def taught():
        return {
            (each.tree_id, each.word)
            for each in gather(site, TODAY).observations
            if not each.is_forgotten
        }

    assert taught() == {(mates[1].pk, "wet"), (alone.pk, "dry")}
    take_back(entry=entry, person=None, now=NOW + timedelta(minutes=3))
    assert len(taught()) == 4


def test_things_are_grouped_by_tree_in_their_order():
    first, second, third = (
        Hold(tree_id, HoldCause.MANURE, TODAY, TODAY + days * DAY)
        for tree_id, days in ((1, 1), (2, 2), (1, 3))
    )
    assert by_tree([first, second, third]) == {1: (first, third), 2: (second,)}


def test_a_planned_tree_asks_for_no_care_before_its_day(site, make_tree):
    make_tree(
        "Lemon",
        species_key="lemon",
        in_container=True,
        container_litres=50.0,
        planted_on=TODAY + 30 * DAY,
    )
    assert {one.kind for one in propose(gather(site, TODAY))} <= {"planting"}
    later = propose(gather(site, TODAY + 30 * DAY))
    assert {one.kind for one in later} - {"planting"}


def test_a_planned_tree_shares_no_hole_yet(site, make_tree):
    clump = Clump.objects.create(site=site, name="Pair")
    old = make_tree("Old", clump=clump)
    new = make_tree("New", clump=clump, planted_on=TODAY + DAY)
    mates = {one.tree.id: one.clump_mates for one in situations(gather(site, TODAY))}
    assert mates == {old.pk: (), new.pk: ()}
    records = gather(site, TODAY + DAY)
    mates = {one.tree.id: one.clump_mates for one in situations(records)}
    assert mates == {old.pk: (new.pk,), new.pk: (old.pk,)}


def test_queries_grow_with_nothing_that_is_kept(site, make_tree):
    def queries() -> int:
        with CaptureQueriesContext(connection) as captured:
            gather(site, TODAY)
        return len(captured)

    def keep(number: int) -> None:
        tree, day = make_tree(f"Tree {number}"), TODAY - number * DAY
        spray(tree, on=day, held_until=TODAY)
        observe(tree=tree, what="soil_feel", person=None, on=day, now=NOW, word="dry")
        FrostEvening.objects.create(site=site, on=day, air_c=2.0, dew_point_c=0.0)
        type_reading(site=site, day=day, values={"tmin_c": -1.0}, person=None)

    keep(1)
    few = queries()
    for number in range(2, 9):
        keep(number)
    assert queries() == few
