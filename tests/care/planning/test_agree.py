"""Rules that agree: what gives way to what, for how long, and that it is told."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings, strategies as st

from care.facts import Hold, HoldCause, Stage, StageDay, WorkDone
from care.planning.agree import agree, bloom_without_cuts, days_of_cut_roots
from care.proposals import Proposal, Reason
from care.science.season import Window
from tests.care.rules.cases import MILD, WARM_SOUTH, morning, orange, species, tree

TODAY = date(2014, 12, 12)
BLOOM, SPRING = date(2014, 4, 20), date(2014, 10, 20)


def days(count):
    return timedelta(days=count)


def asked(kind, action, due=0, *, early=0, late=0, facts=(), **more):
    on = TODAY + days(due)
    return Proposal(
        tree_id=1,
        kind=kind,
        key=more.pop("key", "next"),
        action=action,
        earliest=on - days(early),
        due=on,
        latest=on + days(late),
        reason=Reason(f"{kind}_code", tuple(facts), ("forecast",)),
        **more,
    )


def cold_tonight(action="cover", cold_in=1, due=0):
    facts = (("cold_on", TODAY + days(cold_in)),)
    return asked("cold", action, due, facts=facts, is_urgent=due == 0)


def second(*proposals, **more):
    return agree(proposals, TODAY, **more)[1]


@pytest.mark.parametrize(
    ("kind", "action"),
    [
        ("pruning", "prune"),
        ("training", "train"),
        ("feeding", "feed"),
        ("potting", "pot_up"),
        ("planting", "plant"),
    ],
)
def test_cold_beats_everything_tonight(kind, action):
    put_off = second(cold_tonight(), asked(kind, action, late=20))
    assert put_off.due == put_off.earliest == TODAY + days(2)
    assert put_off.latest == TODAY + days(20)
    assert put_off.reason.fact("postponed_by") == "cold"
    assert put_off.reason.fact("postponed_from") == TODAY


def test_what_is_late_would_be_done_today_and_waits_too():
    put_off = second(cold_tonight(), asked("pruning", "prune", -9, late=2))
    assert (put_off.due, put_off.latest) == (TODAY + days(2),) * 2
    assert put_off.reason.fact("postponed_from") == TODAY - days(9)


def test_work_that_is_not_due_tonight_only_loses_the_days_of_the_cold():
    later = asked("pruning", "prune", 30, early=60, late=20)
    held = second(cold_tonight(), later)
    assert held == replace(later, earliest=TODAY + days(2))
    assert held.reason.fact("postponed_by") is None


@pytest.mark.parametrize(
    ("cold", "other"),
    [
        (cold_tonight(due=1, cold_in=2), asked("pruning", "prune")),  # not tonight
        (cold_tonight(), asked("watering", "water")),  # moist soil guards a tree
        (cold_tonight(), asked("harvest", "pick")),
        (cold_tonight(), asked("weeding", "weed")),
        (asked("cold", "move_out", is_urgent=True), asked("feeding", "feed")),
    ],
)
def test_other_nights_and_other_work_are_left_alone(cold, other):
    assert second(cold, other) == other


@pytest.mark.parametrize("action", ["move_in", "move_out", "group"])
def test_nothing_heavy_is_watered_before_it_is_carried(action):
    move = cold_tonight(action)
    put_off = second(move, asked("watering", "water", late=3))
    assert put_off.due == put_off.earliest == TODAY + days(1)
    assert put_off.reason.fact("postponed_by") == "carrying"
    thirsty = asked("watering", "water", cautions=("not_when_soil_wet",))
    kept = second(move, thirsty)
    assert kept.due == TODAY
    assert kept.cautions == ("not_when_soil_wet", "move_before_watering")
    assert second(move, kept) == kept


def test_a_pot_is_not_watered_on_the_day_before_it_is_carried():
    move = cold_tonight("move_in", cold_in=2, due=1)
    assert second(move, asked("watering", "water", late=5)).due == TODAY + days(2)
    assert second(move, asked("watering", "water", 2, late=5)).due == TODAY + days(2)


@pytest.mark.parametrize("action", ["pot_up", "repot", "root_prune"])
@pytest.mark.parametrize(
    ("due", "moved_to"), [(-7, -7), (-6, 7), (0, 7), (6, 7), (7, 7)]
)
def test_no_feed_in_the_week_of_root_work(action, due, moved_to):
    # Common practice: cut roots are not fed; husbandry guides say not the same month
    work = asked("potting", action, 40)
    fed = second(work, asked("feeding", "feed", 40 + due, late=30))
    assert fed.due == TODAY + days(40 + moved_to)
    looked = asked("potting", "check_roots", 40)
    plain = asked("feeding", "feed", 40 + due)
    assert second(looked, plain) == plain
    assert second(replace(work, is_firm=False), plain) == plain


def test_no_feed_in_the_week_after_roots_were_cut():
    logged = (
        WorkDone(1, "potting", "2014/1", TODAY - days(3), amount=40.0),
        WorkDone(1, "potting", "2014/look", TODAY - days(1)),
        WorkDone(1, "potting", "2013/1", TODAY - days(2), "skipped", amount=40.0),
    )
    cut = days_of_cut_roots(morning(TODAY, work=logged))
    assert cut == (TODAY - days(3),)
    (fed,) = agree([asked("feeding", "feed", late=9)], TODAY, roots_cut=cut)
    assert (fed.due, fed.reason.fact("postponed_by")) == (TODAY + days(4), "root_work")


def test_what_is_fed_is_not_washed_out_again_for_a_fortnight():
    # Common practice, no source
    wash = asked("flushing", "flush", 3, early=7, late=14)
    put_off = second(asked("feeding", "feed", late=30), wash)
    assert put_off.due == put_off.earliest == TODAY + days(14)
    assert put_off.reason.fact("postponed_by") == "fed"
    before = asked("flushing", "flush", -1, late=0)
    fed = asked("feeding", "feed", 1, late=30)
    assert agree([before, fed], TODAY) == [before, fed]
    assert second(asked("feeding", "check"), wash) == wash
    assert second(asked("feeding", "feed", is_firm=False), wash) == wash


def test_a_pot_is_not_watered_on_the_day_it_is_washed():
    wash = asked("flushing", "flush", late=14)
    put_off = second(wash, asked("watering", "water", late=3))
    assert put_off.due == TODAY + days(1)
    assert put_off.reason.fact("postponed_by") == "washed"
    thirsty = asked("watering", "water")
    assert second(wash, thirsty) == thirsty
    late = asked("flushing", "flush", -2, late=14)
    water = asked("watering", "water", late=3)
    assert second(late, water) == water


def test_a_feeding_put_off_past_its_last_good_day_is_left_out():
    # What is fed late grows late, and freezes: the rule's last day is a limit
    cut = (TODAY - days(3),)
    assert agree([asked("feeding", "feed", late=3)], TODAY, roots_cut=cut) == []
    (kept,) = agree([asked("feeding", "feed", late=4)], TODAY, roots_cut=cut)
    assert kept.due == kept.latest == TODAY + days(4)


def test_a_potting_that_the_cold_put_off_moves_the_feed_along():
    proposals = (
        asked("feeding", "feed", 3, late=30),
        asked("potting", "pot_up", late=9),
        cold_tonight(),
    )
    fed, potted, _ = agree(proposals, TODAY)
    assert potted.due == TODAY + days(2)
    assert fed.due == TODAY + days(9)
    assert fed.reason.fact("postponed_by") == "root_work"


def test_frozen_wood_is_not_cut_until_growth_tells():
    until = TODAY + days(120)
    facts = (("no_pruning_until", until),)
    look = asked("freeze", "look_at_damage", 120, facts=facts, is_firm=False)
    cut = second(look, asked("pruning", "prune", 60, late=20))
    assert (cut.due, cut.latest) == (until, until)
    assert cut.reason.fact("postponed_by") == "frozen_wood"
    after = asked("pruning", "prune", 121)
    assert second(look, after) == after
    nothing_told = asked("freeze", "look_at_damage", 120)
    assert second(nothing_told, after) == after


def test_heat_puts_off_what_a_hot_day_would_harm():
    hot = asked("heat", "shade_pots", 1, early=1, is_urgent=True)
    assert second(hot, asked("feeding", "feed", late=9)).due == TODAY + days(2)
    calm = asked("heat", "shade_pots", 2, early=2)
    assert second(calm, asked("feeding", "feed")).due == TODAY


def hold(until, on=-3):
    return Hold(1, HoldCause.SPRAY, TODAY + days(on), TODAY + days(until), "copper")


def test_fruit_waits_out_the_longest_of_its_waiting_days():
    pick = asked("harvest", "pick", late=3)
    (waits,) = agree([pick], TODAY, holds=(hold(4), hold(9)))
    assert (waits.due, waits.latest) == (TODAY + days(10),) * 2
    assert waits.reason.fact("postponed_by") == "waiting_days"
    look = asked("harvest", "look")
    assert agree([look], TODAY, holds=(hold(4),)) == [look]
    assert agree([pick], TODAY, holds=(hold(-1),)) == [pick]


def test_no_cuts_in_bloom():
    bloom = Window(TODAY - days(2), TODAY + days(10))
    cut, asks, weeds = agree(
        [
            asked("pruning", "prune", late=5),
            asked("pruning", "check", late=5),
            asked("weeding", "weed"),
        ],
        TODAY,
        bloom=bloom,
    )
    assert cut.due == TODAY + days(11)
    assert cut.reason.fact("postponed_by") == "bloom"
    assert (asks.due, weeds.due) == (TODAY, TODAY)


@pytest.mark.parametrize(
    ("kind", "stages", "window"),
    [
        (species(), {"full": "heat"}, (-7, 14)),
        (species(), {"full": "seen", "fall": "seen"}, (-7, 9)),
        (species(), {"full": "months"}, None),
        (species(), {}, None),
        (orange(), {"full": "seen"}, None),  # fire blight is of pome fruit
    ],
)
@pytest.mark.parametrize(("site", "full_on"), [(MILD, BLOOM), (WARM_SOUTH, SPRING)])
def test_pome_fruit_is_not_cut_around_a_bloom_that_is_known(
    kind, stages, window, site, full_on
):
    named = {"full": (Stage.FULL_BLOOM, 0), "fall": (Stage.PETAL_FALL, 9)}
    known = tuple(
        StageDay(named[name][0], 2014, full_on + days(named[name][1]), basis)
        for name, basis in stages.items()
    )
    situation = morning(full_on, tree(kind), site, stages=known)
    expected = window and Window(*(full_on + days(each) for each in window))
    assert bloom_without_cuts(situation) == expected


def test_work_put_off_twice_tells_its_first_day():
    once = second(cold_tonight(), asked("pruning", "prune"))
    (twice,) = agree([once], TODAY, bloom=Window(TODAY, TODAY + days(6)))
    assert twice.due == TODAY + days(7)
    assert [name for name, _ in twice.reason.facts] == [
        "postponed_by",
        "postponed_from",
    ]
    assert twice.reason.fact("postponed_from") == TODAY
    assert twice.reason.fact("postponed_by") == "bloom"


ACTIONS = (
    ("cold", "cover"),
    ("cold", "move_in"),
    ("freeze", "look_at_damage"),
    ("heat", "shade_pots"),
    ("potting", "root_prune"),
    ("pruning", "prune"),
    ("feeding", "feed"),
    ("flushing", "flush"),
    ("watering", "water"),
    ("harvest", "pick"),
    ("weeding", "weed"),
)


@st.composite
def proposal_lists(draw):
    found = []
    for number in range(draw(st.integers(1, 7))):
        kind, action = draw(st.sampled_from(ACTIONS))
        due = draw(st.integers(-10, 40))
        facts = (
            ("cold_on", TODAY + days(due + draw(st.integers(0, 2)))),
            ("no_pruning_until", TODAY + days(draw(st.integers(0, 60)))),
        )
        found.append(
            asked(
                kind,
                action,
                due,
                early=draw(st.integers(0, 20)),
                late=draw(st.integers(0, 20)),
                facts=facts,
                key=f"next/{number}",
                is_urgent=draw(st.booleans()),
                is_firm=draw(st.booleans()),
            )
        )
    return found


@settings(max_examples=300)
@given(
    proposals=proposal_lists(),
    hold_days=st.integers(-5, 20),
    bloom_in=st.none() | st.integers(-10, 30),
)
def test_what_is_settled_stays_settled(proposals, hold_days, bloom_in):
    first = None if bloom_in is None else TODAY + days(bloom_in)
    bloom = None if first is None else Window(first, first + days(12))
    more = {"holds": (hold(hold_days, on=-6),), "bloom": bloom}
    settled = agree(proposals, TODAY, **more)
    assert agree(settled, TODAY, **more) == settled
    assert agree(proposals, TODAY, **more) == settled
    asked_for = {(p.kind, p.key): p for p in proposals}
    left_out = asked_for.keys() - {(p.kind, p.key) for p in settled}
    assert {kind for kind, _ in left_out} <= {"feeding"}
    for after in settled:
        before = asked_for[after.kind, after.key]
        assert before.action == after.action
        assert after.earliest <= after.due <= after.latest
        if after.due == before.due:
            assert after.latest == before.latest
            assert before.earliest <= after.earliest
        else:
            assert after.due > before.due
            assert after.due >= TODAY
            assert after.reason.fact("postponed_from") == before.due
            assert after.latest == max(before.latest, after.due)


@settings(max_examples=100)
@given(proposals=proposal_lists())
def test_the_order_in_which_equals_stand_changes_nothing(proposals):
    settled = agree(proposals, TODAY)
    back = agree(proposals[::-1], TODAY)[::-1]
    dues = {
        (p.kind, p.key): p.due for p in settled if p.kind not in ("cold", "potting")
    }
    again = {(p.kind, p.key): p.due for p in back if p.kind not in ("cold", "potting")}
    assert dues == again
