"""What a file would change of a plan."""

import json

import pytest

from orchard.plans.changes import changes_of
from orchard.plans.geojson_in import PlanFileError, read_geojson
from orchard.plans.geojson_out import to_geojson
from tests.orchard.plans.drawn import drawn_plan


@pytest.fixture
def plan():
    return drawn_plan()


def changed(plan, change, **options):
    """Return what the plan's own file would change after ``change`` of its features."""
    document = to_geojson(plan)
    by_name = {
        f["properties"].get("name", f["properties"]["kind"]): f
        for f in document["features"]
    }
    added = change(by_name) or []
    document["features"] += added
    read = read_geojson(json.dumps(document), plan.axes)
    return changes_of(read, plan, **{"may_be_outside": False, **options})


def move(member, plan, place_m):
    member["geometry"]["coordinates"] = list(plan.axes.to_earth(*place_m))


def test_moved_new_changed_and_unknown_things_are_told_apart(plan):
    def change(members):
        move(members["Anna"], plan, (3.0, 3.0))
        members["Anna"]["properties"]["name"] = "Renamed elsewhere"  # its id tells
        del members["Berta"]["id"]  # its name tells
        move(members["B"], plan, (6.0, 0.0))
        members["Shed"]["properties"]["height_m"] = 3.0
        members["boundary"]["properties"]["name"] = "Fence"
        del members["boundary"]["id"]
        fig = json.loads(json.dumps(members["Berta"]))
        fig["properties"]["name"] = "Fig that nobody entered"
        pond = json.loads(json.dumps(members["Shed"]))
        pond["properties"] = {"kind": "water", "name": "Pond"}
        corner = json.loads(json.dumps(members["A"]))
        corner["properties"]["name"] = "C"
        return [fig, pond, corner]

    found = changed(plan, change)
    assert [(tree.name, place) for tree, place in found.moved] == [
        ("Anna", pytest.approx((3, 3), abs=1e-3))
    ]
    assert [one.name for one in found.new_features] == ["Pond"]
    assert [(f.pk, one.name) for f, one in found.changed_features] == [
        (1, "Fence"),
        (2, "Shed"),
    ]
    assert [name for name, _ in found.new_corners] == ["C"]
    assert [corner.name for corner, _ in found.moved_corners] == ["B"]
    assert found.unknown == ["Fig that nobody entered"]
    assert (found.number, found.same) == (6, 4)  # Berta, A, wires and tap stay


def copy_of(member, **properties):
    twin = json.loads(json.dumps(member))
    twin["properties"] |= properties
    return twin


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda m: [copy_of(m["Anna"])], "“Anna” is in the file twice"),
        (lambda m: [copy_of(m["Shed"])], "“Shed” is in the file twice"),
        (lambda m: [copy_of(m["A"])], "“A” is in the file twice"),
        (lambda m: [copy_of(m["boundary"], name="x")], "has 2 boundaries"),
    ],
)
def test_a_thing_is_in_a_file_once(plan, change, words):
    with pytest.raises(PlanFileError, match=words):
        changed(plan, change)


def test_a_tree_outside_the_boundary_of_the_file_is_refused(plan):
    def change(members):
        move(members["Anna"], plan, (4.0, 14.0))

    with pytest.raises(PlanFileError, match="“Anna”: This is 2 m outside"):
        changed(plan, change)
    assert changed(plan, change, may_be_outside=True).number == 1

    def with_a_wider_boundary(members):
        change(members)
        ring = [plan.axes.to_earth(*p) for p in ((0, 0), (20, 0), (20, 20), (0, 20))]
        members["boundary"]["geometry"]["coordinates"] = [[*ring, ring[0]]]

    assert changed(plan, with_a_wider_boundary).number == 2


def test_trees_may_change_places_but_not_share_one(plan):
    def swap(members):
        move(members["Anna"], plan, (8.0, 6.0))
        move(members["Berta"], plan, (4.0, 6.0))

    assert changed(plan, swap).number == 2

    def share(members):
        move(members["Anna"], plan, (8.0, 6.0))

    with pytest.raises(PlanFileError, match="“Anna”: “Berta” stands there already"):
        changed(plan, share)
