"""The whole working of a task: inputs with their origin, equations that close."""

from datetime import UTC, date, datetime, time

import pytest

from care.models import Task
from care.planning.plan_site import plan_site
from care.views.steps import FILL, steps_of
from care.views.steps.step import Step, Term, inputs_of
from deploy.demo import load, scenario
from orchard.actions.people import found_orchard
from orchard.actions.places import add_site, raise_revision
from orchard.models import Person

MONTHS = (2, 5, 7, 10, 12)
WATER = {
    "code": "water_established",
    "facts": [
        ["litres_per_day", 49.9],
        ["et0_mm", 4.2],
        ["kc", 0.95],
        ["crown_area_m2", 12.5],
        ["crown_is_guess", True],
        ["demand_factor", 1.0],
        ["winter_share", 1.0],
        ["bare_soil_m2", 0.0],
        ["clump_size", 1],
        ["method", "hargreaves"],
        ["season_stage", "middle"],
        ["net_l", 60.0],
    ],
    "would_change": ["rain"],
}
MONTHS = (2, 5, 7, 10, 12)


def text(response):
    return " ".join(response.content.decode().split())


def address(task):
    return f"/s/test-site/tasks/{task.public_id}/working/"


@pytest.fixture
def viewer(cast, client_of):
    return client_of(cast.viewer)


@pytest.fixture
def watering(make_tree, make_task, keep_plan):
    task = make_task(make_tree("Anna"), reason=WATER, sources=["fao56"])
    keep_plan()
    return task


def test_an_input_says_where_it_comes_from(viewer, watering):
    page = text(viewer.get(address(watering)))
    assert "Hargreaves, FAO-56 Eq. 52" in page
    assert "guessed from age and species" in page
    assert "FAO-56: apples, cherries, pears" in page


def test_an_equation_stands_by_name_with_its_numbers(viewer, watering):
    page = text(viewer.get(address(watering)))
    assert "FAO-56 Eq. 58" in page
    assert "<var>K<sub>c</sub></var>" in page
    assert "crop coefficient, middle stage, <strong>0.95</strong>" in page
    assert "= 4.2 · (1 · 0.95 · 12.5 · 1 + 0) / 1" in page
    assert "<strong>= 49.9 L/day</strong>" in page


def test_a_step_with_an_unknown_number_is_left_out(watering):
    titles = [step.title for step in steps_of(watering, None)]
    assert "Depth on the watered ground" not in titles


def test_a_task_decided_by_a_date_says_so(viewer, make_tree, make_task, keep_plan):
    task = make_task(
        make_tree(), kind="weeding", key="next", action="weed", reason={"code": "weed"}
    )
    keep_plan()
    assert "not by a sum" in text(viewer.get(address(task)))


def test_inputs_stand_once_and_results_are_none():
    given = Term("a", "an input", 2.0, "m", "tree record")
    middle = Term("b", "a result", 4.0, "m")
    steps = [
        Step("first", "", "b = 2 a", (given,), middle, 4.0),
        Step("second", "", "c = a + b", (given, middle), Term("c", "", 6.0), 6.0),
    ]
    assert inputs_of(steps) == (given,)


@pytest.fixture
def demo(db):
    orchard = found_orchard(
        person=Person.objects.create_user("marta"), name="Alder Row", is_demo=True
    )
    site = add_site(
        orchard=orchard,
        values={**scenario.ALDER_ROW, "own_today": date(2014, 1, 1)},
        slug="alder-row",
    )
    load.fill_weather(site, load.record_days())
    load.fill_trees(site, scenario.ALDER_ROW_BLOCKS, scenario.ALDER_ROW_TREES)
    return site


def tasks_over_the_year(site):
    for month in MONTHS:
        today = date(2014, month, 10)
        raise_revision(site)
        plan_site(site, today, datetime.combine(today, time(6), UTC))
        yield from Task.objects.filter(site=site, status="open").select_related("tree")


def test_every_equation_of_a_year_closes_within_the_rounding_shown(demo):
    seen = set()
    for task in tasks_over_the_year(demo):
        for step in steps_of(task, None):
            seen.add(task.kind)
            assert step.again == pytest.approx(step.result.value, rel=0.03, abs=0.06), (
                task.kind,
                task.key,
                step,
            )
    assert seen >= set(FILL) - {
        "cold",
        "soil",
        "flushing",
    }  # nothing asks for them there
