"""The whole working of a task: inputs with their origin, equations that close."""

import pytest

from care.views.steps import steps_of
from care.views.steps.step import Step, Term, inputs_of

WATER = {
    "code": "water_established",
    "facts": [
        ["litres_per_day", 49.9],
        ["et0_mm", 4.2],
        ["kc", 0.95],
        ["crown_area_m2", 12.5],
        ["crown_is_guess", True],
        ["method", "hargreaves"],
        ["source_kind", "forecast"],
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
    assert "hargreaves, from forecast weather" in page
    assert "guessed from age and species" in page
    assert "FAO-56: apples, cherries, pears" in page


def test_an_equation_stands_by_name_with_its_numbers(viewer, watering):
    page = text(viewer.get(address(watering)))
    assert "FAO-56 Eq. 58" in page
    assert "Kc = 0.95" in page
    assert "U = 49.9 L/day" in page
    assert "(from the numbers shown: 49.88)" in page


def test_a_step_with_an_unknown_number_is_left_out(watering):
    titles = [step.title for step in steps_of(watering)]
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
