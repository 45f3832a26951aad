"""The plan of a site as members see and print it."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from orchard.actions.trees import add_tree
from orchard.models import (
    Clump,
    Corner,
    Feature,
    NeighbourTree,
    Planting,
    SitePlan,
    WantedTree,
)
from tests.conftest import TODAY


@pytest.fixture
def look(site, cast, client_of):
    def get(name="plan", *, who=None, **query):
        client = client_of(who or cast.viewer)
        answer = client.get(reverse(name, args=[site.slug]), query)
        assert answer.status_code == 200
        return answer.content.decode()

    return get


def lay_out(site, make_tree):
    SitePlan.objects.create(site=site, up_bearing_deg=90.0)
    Corner.objects.create(site=site, name="House NE", x_m=0.0, y_m=0.0)
    Corner.objects.create(site=site, name="Gate", x_m=12.0, y_m=0.0)
    Feature.objects.create(
        site=site, kind="wires", name="Street line", points_m=[[0, 2], [12, 2]]
    )
    Feature.objects.create(
        site=site, kind="tap", name="Tap", points_m=[[1, 1]], flow_l_per_min=12.0
    )
    low = Clump.objects.create(
        site=site, name="Low hedge", is_hedge=True, height_limit_m=1.5
    )
    NeighbourTree.objects.create(site=site, species_key="pear", x_m=11.0, y_m=11.0)
    make_tree("Pecan", species_key="pecan", x_m=3.0, y_m=4.0)
    make_tree("Berry one", species_key="raspberry", x_m=6.0, y_m=9.0, clump=low)
    make_tree("Berry two", species_key="raspberry", x_m=6.3, y_m=9.0, clump=low)
    make_tree("Nowhere")
    planting = Planting.objects.create(site=site, name="Autumn", begun_on=TODAY)
    wish = {"planting": planting, "species_key": "quince"}
    WantedTree.objects.create(name="New quince", x_m=9.0, y_m=6.0, **wish)
    WantedTree.objects.create(name="Another quince", **wish)


def test_an_empty_plan_says_how_to_begin(look, cast):
    words = look(who=cast.coordinator)
    assert "Begin with two corners" in words
    assert "<svg" not in words
    assert "A coordinator or the owner can begin it." in look()
    assert "Nothing is on the plan yet" in look("plan_drawing")


def test_the_plan_shows_the_drawing_what_is_wrong_and_every_place(
    look, site, make_tree, cast
):
    lay_out(site, make_tree)
    words = look(when="grown")
    assert "Stop: within 3.05 m of wires" in words
    assert "Pecan (1) stands 2 m from Street line" in words
    assert "5 m from House NE" in words
    assert "Low hedge: kept at 1.5 m, so its plants may stand close." in words
    assert "2 without a place" in words
    assert f"/s/{site.slug}/wanted/" in words
    assert "quince, wanted" in words.lower()
    assert "North is to the left. The midday sun comes from the right." in words
    assert re.search(r"crown 18 m, about \d+ hours of sun", words)
    assert "Tap, 12 L a minute" in words
    assert 'aria-current="true">Grown' in words
    drawing = words[words.index("<svg") : words.index("</svg>")]
    assert " style=" not in words
    assert "<script" not in drawing
    assert drawing.count("plan__crown--stands") == 3
    assert drawing.count("plan__crown--to_come") == 1
    assert drawing.count("plan__crown--neighbour") == 1
    assert "<title" in drawing
    assert "<desc" in drawing
    cast.viewer.units = "us"
    cast.viewer.save()
    assert "within 10 ft of wires" in look(when="no such time")


def test_a_block_is_looked_at_closer_on_the_screen_and_on_paper(look, site, make_tree):
    lay_out(site, make_tree)
    words = look(near="Long row", when="grown")
    assert "?when=five&amp;near=Long+row" in words
    assert 'aria-current="true">Long row' in words
    assert "Plan of Long row: grown" in words
    sheet = look("plan_drawing", near="Long row")
    assert "Test site, Long row, today" in sheet
    assert "neighbour" not in sheet[sheet.index("</svg>") :]
    assert "Plan of Test site" in look("plan_drawing", near="No such block")


def test_who_may_measure_is_led_to_what_has_no_place(look, make_tree, cast):
    make_tree("Here", x_m=1.0, y_m=1.0)
    tree = make_tree("Nowhere")
    assert f"?plant=tree-{tree.pk}" in look(who=cast.coordinator)
    assert "?plant=" not in look()


def test_the_sheet_is_drawn_in_millimetres_at_the_scale_it_states(
    look, site, make_tree
):
    lay_out(site, make_tree)
    words = look("plan_drawing", when="five")
    ratio = int(re.search(r"Scale 1:(\d+), 1 cm on paper", words)[1])
    svg = re.search(
        r'viewBox="0 0 ([\d.]+) ([\d.]+)" width="([\d.]+)mm" height="([\d.]+)mm"', words
    )
    assert svg[1] == svg[3]
    assert svg[2] == svg[4]
    wires = re.search(r'class="plan__wires" points="([\d.]+),[\d.]+ ([\d.]+),', words)
    # Twelve metres of wire.
    assert float(wires[2]) - float(wires[1]) == pytest.approx(12_000 / ratio, abs=0.11)


def test_more_trees_take_no_more_queries(
    site, make_tree, cast, client_of, django_assert_num_queries
):
    lay_out(site, make_tree)
    client, address = client_of(cast.viewer), reverse("plan", args=[site.slug])
    client.get(address)
    with CaptureQueriesContext(connection) as few:
        client.get(address)
    for number in range(6):
        add_tree(
            site=site,
            values={
                "name": f"More {number}",
                "species_key": "apple",
                "block": site.blocks.first(),
                "x_m": 20.0 + 2 * number,
                "y_m": 5.0,
            },
            today=TODAY,
        )
    with django_assert_num_queries(len(few)):
        words = client.get(address).content.decode()
    assert "Closer than usual" in words
    assert re.search(r"[1-9] more<span", words)
