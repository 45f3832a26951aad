"""Answers from the tree's page and from the task's: one tap, or one tap and a number."""

from datetime import timedelta

import pytest
from lxml import html  # type: ignore[import-untyped]  # lxml ships no types

from care.models import LogEntry, Task
from care.planning.species_facts import species_facts
from care.views.bbch import SCALES, USUAL, bbch_code
from care.views.observing import stage_buttons
from orchard.actions.people import choose_units
from orchard.models import WeatherDay
from tests.conftest import TODAY

DAY = timedelta(days=1)
WATER = {"code": "water_pot", "facts": [], "would_change": []}


def text(response):
    return " ".join(response.content.decode().split())


def of_tree(tree, verb=""):
    return f"/s/test-site/trees/{tree.public_id}/{verb}"


def of_task(task, verb=""):
    return f"/s/test-site/tasks/{task.public_id}/{verb}"


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def pot(make_tree):
    return make_tree(
        "Lemon", species_key="lemon", in_container=True, container_litres=50.0
    )


@pytest.fixture
def watering(pot, make_task, keep_plan):
    task = make_task(pot, amount=6.0, reason=WATER)
    keep_plan()
    return task


def said():
    rows = LogEntry.objects.filter(voided_at=None).order_by("kind")
    return [(entry.kind, entry.amount) for entry in rows]


@pytest.mark.parametrize(
    ("answer", "kept"),
    [
        ({"drained": "yes"}, [("drained_after_l", 5.0), ("watering", 5.0)]),
        (
            {"drained": "yes", "drained_after": "4"},
            [("drained_after_l", 4.0), ("watering", 5.0)],
        ),
        ({"drained": "no"}, [("not_drained_l", 5.0), ("watering", 5.0)]),
        ({"drained": ""}, [("watering", 5.0)]),
        ({}, [("watering", 5.0)]),
    ],
)
def test_a_tick_of_a_pot_asks_whether_water_ran_out_below(
    grower, watering, answer, kept
):
    assert "Did water run out below?" in text(grower.get(of_task(watering)))
    grower.post(of_task(watering, "done/"), {"amount": "5", **answer})
    assert said() == kept


def test_an_empty_amount_is_the_planned_one_for_both(grower, watering):
    grower.post(of_task(watering, "done/"), {"amount": "", "drained": "yes"})
    assert said() == [("drained_after_l", 6.0), ("watering", 6.0)]


def test_taking_the_tick_back_takes_the_answer_with_it(grower, watering):
    grower.post(of_task(watering, "done/"), {"amount": "5", "drained": "yes"})
    entry = LogEntry.objects.get(kind="watering")
    grower.post(f"/s/test-site/log/{entry.public_id}/undo/")
    assert said() == []
    watering.refresh_from_db()
    assert watering.status == Task.Status.OPEN


@pytest.mark.parametrize(
    ("answer", "words"),
    [
        ({"drained": "yes", "drained_after": "9"}, "That is more than it got."),
        ({"drained": "no", "drained_after": "3"}, "Then say yes."),
        ({"drained_after": "3"}, "Then say yes."),
        ({"drained": "perhaps"}, "Select a valid choice"),
        ({"drained": "yes", "drained_after": "lots"}, "lots"),
    ],
)
@pytest.mark.parametrize("place", ["task", "tree"])
def test_an_answer_that_cannot_be_is_refused_and_nothing_is_lost(
    grower, watering, pot, answer, words, place
):
    where = of_task(watering, "done/") if place == "task" else of_tree(pot, "water/")
    answer = grower.post(where, {"amount": "5", "on": str(TODAY), **answer})
    assert answer.status_code == 422
    assert words in text(answer)
    assert 'value="5"' in text(answer)
    assert said() == []


def test_a_tree_in_the_ground_is_not_asked_what_ran_out(
    grower, make_tree, make_task, keep_plan
):
    task = make_task(make_tree())
    keep_plan()
    assert "run out below" not in text(grower.get(of_task(task)))


def test_water_is_logged_from_the_trees_page_with_or_without_a_task(grower, pot):
    day = TODAY - DAY
    posted = {"amount": "4", "on": str(day), "drained": "no"}
    page = text(grower.post(of_tree(pot, "water/"), posted, follow=True))
    assert "The water is in the log." in page
    assert said() == [("not_drained_l", 4.0), ("watering", 4.0)]
    assert set(LogEntry.objects.values_list("on", flat=True)) == {day}


def test_water_of_a_waiting_task_ticks_it(grower, watering, pot):
    grower.post(of_tree(pot, "water/"), {"amount": "4", "on": str(TODAY)})
    watering.refresh_from_db()
    assert watering.status == Task.Status.DONE


def test_water_needs_an_amount(grower, pot):
    answer = grower.post(of_tree(pot, "water/"), {"amount": "", "on": str(TODAY)})
    assert answer.status_code == 422
    assert "About how much did it get?" in text(answer)


def test_a_thermometer_read_at_the_tree_counts_for_the_place(grower, pot):
    page = html.fromstring(grower.get(of_tree(pot)).content.decode())
    (form,) = page.xpath("//form[@action='/s/test-site/weather/']")
    assert form.xpath(".//input[@name='back']/@value") == [of_tree(pot)]
    posted = {"day": str(TODAY), "tmin_c": "-1.5", "back": of_tree(pot)}
    answer = grower.post("/s/test-site/weather/", posted)
    assert answer.headers["Location"] == of_tree(pot)
    assert WeatherDay.objects.get().tmin_c == -1.5


def test_a_cold_task_offers_the_thermometer_and_a_watering_the_gauge(
    grower, pot, make_task, keep_plan
):
    cold = make_task(pot, kind="cold", action="cover", amount=None, unit="")
    water = make_task(pot, reason=WATER)
    keep_plan()
    for task, box, other in ((cold, "tmin_c", "rain_mm"), (water, "rain_mm", "tmin_c")):
        page = text(grower.get(of_task(task)))
        assert f'name="{box}"' in page
        assert f'name="{other}"' not in page


@pytest.mark.parametrize(
    ("kind", "action", "names"),
    [
        ("feeding", "feed", ["shoot_growth_mm"]),
        ("mulching", "top_up", ["mulch_depth_mm", "trunk_gap_mm"]),
        ("pruning", "prune", []),
    ],
)
def test_a_task_offers_what_is_worth_measuring_for_it(
    grower, make_tree, make_task, keep_plan, kind, action, names
):
    task = make_task(make_tree(), kind=kind, action=action, amount=None, unit="")
    keep_plan()
    page = html.fromstring(grower.get(of_task(task)).content.decode())
    found = page.xpath("//section[h2[@id='say']]//input[@name='what']/@value")
    assert found == names


def test_a_stage_is_tapped_on_the_task_it_would_change(
    grower, make_tree, make_task, keep_plan
):
    reason = {"code": "thin_fruit", "facts": [], "would_change": ["bloom_seen"]}
    tree = make_tree("Apple", species_key="apple")
    task = make_task(tree, kind="thinning", action="thin", unit="", reason=reason)
    keep_plan()
    page = text(grower.get(of_task(task)))
    assert 'Full bloom <span class="state small">65</span>' in page
    posted = {"what": "bloom_stage", "word": "full_bloom", "back": of_task(task)}
    answer = grower.post(of_tree(tree, "observe/"), posted)
    assert answer.headers["Location"] == of_task(task)
    assert LogEntry.objects.get().word == "full_bloom"


def test_the_weight_is_asked_on_the_picking_itself(
    grower, make_tree, make_task, keep_plan
):
    tree = make_tree("Apple")
    task = make_task(tree, kind="harvest", action="pick", amount=None, unit="")
    keep_plan()
    assert "How much was picked" in text(grower.get(of_task(task)))
    grower.post(of_tree(tree, "harvest/"), {"mass": "3", "on": str(TODAY)})
    task.refresh_from_db()
    assert task.status == Task.Status.DONE


def test_answers_that_do_not_fit_are_told_on_the_watering_too(
    cast, client_of, pot, make_task, keep_plan
):
    facts = [["demand_answers", 6], ["demand_factor", 1.4]]
    task = make_task(pot, reason={**WATER, "facts": facts})
    keep_plan()
    page = text(client_of(cast.coordinator).get(of_task(task)))
    assert "Something does not fit" in page
    assert f"{of_tree(pot, 'edit/')}?open=size" in page


def test_a_viewer_reads_but_is_asked_nothing(cast, client_of, watering, pot):
    viewer = client_of(cast.viewer)
    assert 'id="say"' not in text(viewer.get(of_task(watering)))
    assert "Watered it" not in text(viewer.get(of_tree(pot)))


def test_gallons_are_litres_in_every_box(cast, client_of, watering):
    choose_units(person=cast.grower, units="us")
    # NIST SP 811 (2008): a US gallon is 3.785 411 784 L.
    posted = {"amount": "2", "drained": "yes", "drained_after": "1"}
    client_of(cast.grower).post(of_task(watering, "done/"), posted)
    amounts = [pytest.approx(gallons * 3.785411784) for gallons in (1, 2)]
    assert [amount for _kind, amount in said()] == amounts


# Meier (ed., 2001), BBCH Monograph, stone and pome fruit: 51 buds swelling, 53 bud
# burst, 57 petals visible, 65 full flowering, 67 flowers fading (majority of petals
# fallen), 93 leaves begin to fall; read where other pages report them.
@pytest.mark.parametrize(
    ("stage", "group", "code"),
    [
        ("green_tip", "pome", "53"),
        ("first_pink", "pome", "57"),
        ("full_bloom", "stone", "65"),
        ("post_bloom", "stone", "67"),
        ("in_shuck", "stone", "72"),
        ("leaf_drop", "fig", "93"),
        ("bud_break", "fig", "07"),
        ("harvest", "pome", ""),
        ("half_inch_green", "citrus", ""),
    ],
)
def test_stages_carry_their_codes(stage, group, code):
    assert bbch_code(stage, group) == code


def test_codes_rise_with_the_season(make_tree):
    for key in ("apple", "pear", "peach", "sweet_cherry", "apricot", "fig"):
        codes = [one.code for one in stage_buttons(species_facts(key))]
        known = [code for code in codes if code]
        assert known == sorted(known)
        assert len(known) > 4
    for scale in (*SCALES.values(), USUAL):
        assert all(len(code) == 2 and code.isdigit() for code in scale.values())
