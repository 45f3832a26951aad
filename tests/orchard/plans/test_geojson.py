"""Plans as GeoJSON: valid to other libraries, and read back where they were."""

import json
import math

import pytest
from geojson_pydantic import FeatureCollection
from hypothesis import given, strategies as st
from shapely.geometry import shape

from orchard.plans.axes import PlanAxes, metres_per_degree
from orchard.plans.changes import changes_of
from orchard.plans.gathered import place_of, points_of
from orchard.plans.geojson_in import PlanFileError, read_geojson
from orchard.plans.geojson_out import to_geojson
from orchard.plans.geojson_text import MOST_BYTES
from tests.orchard.plans.drawn import drawn_plan

AXES = PlanAxes(47.45, -122.31)
HERE = [-122.31, 47.45]


def written(**where):
    return json.dumps(to_geojson(drawn_plan(**where)))


def test_two_libraries_take_it_and_its_rings_run_as_the_standard_wants():
    collection = FeatureCollection.model_validate_json(written())
    shapes = {
        member.properties["kind"]: shape(member.geometry.model_dump())
        for member in collection.features
    }
    assert all(each.is_valid for each in shapes.values())
    for kind in ("boundary", "building"):  # RFC 7946, 3.1.6
        assert shapes[kind].exterior.is_ccw
    west, south, east, north = collection.bbox
    bounds = [each.bounds for each in shapes.values()]
    assert (west, south) == (min(b[0] for b in bounds), min(b[1] for b in bounds))
    assert (east, north) == (max(b[2] for b in bounds), max(b[3] for b in bounds))
    # The yard of 20 x 12 m has its area on the earth too, by a degree's two lengths.
    east_m, north_m = metres_per_degree(47.45)
    area_m2 = shapes["boundary"].area * east_m * north_m
    assert area_m2 == pytest.approx(240, rel=1e-4)


def test_what_it_says_of_each_thing():
    members = {f["id"]: f for f in to_geojson(drawn_plan())["features"]}
    kinds = [f["properties"]["kind"] for f in members.values()]
    assert sorted(kinds) == [
        *("boundary", "building", "corner", "corner", "neighbour"),
        *("tap", "tree", "tree", "wires"),
    ]
    plan = drawn_plan()
    plan.trees[0].public_id = "11111111-2222-4333-8444-555555555555"
    tree = {f["id"]: f for f in to_geojson(plan)["features"]}[plan.trees[0].public_id]
    assert tree["geometry"]["type"] == "Point"
    assert tree["properties"] == {
        "kind": "tree",
        "name": "Anna",
        "species": "apple",
        "cultivar": "Liberty",
        "planted_on": "2020-03-01",
    }
    tap = next(f for f in members.values() if f["properties"]["kind"] == "tap")
    assert tap["properties"] == {"kind": "tap", "flow_l_per_min": 15.0}


def test_an_empty_plan_and_one_across_the_date_line():
    plan = drawn_plan()
    plan.features, plan.corners, plan.trees, plan.neighbours = [], [], [], []
    assert to_geojson(plan) == {"type": "FeatureCollection", "features": []}
    west, _, east, _ = to_geojson(drawn_plan(-17.0, 179.9999))["bbox"]
    assert west > 179 > -179 > east  # RFC 7946, 5.2


# The site's own coordinates are the plan's origin here.
@given(st.floats(-65, 65), st.floats(-180, 179.999), st.floats(0, 359.9), st.randoms())
def test_what_is_written_is_read_back_within_a_millimetre(lat, lon, bearing, random):
    plan = drawn_plan(lat, lon, bearing)
    for tree in plan.trees[:2]:
        tree.x_m, tree.y_m = random.uniform(-900, 900), random.uniform(-900, 900)
    read = read_geojson(json.dumps(to_geojson(plan)), plan.axes)
    for tree, back in zip(plan.trees[:2], read.plants, strict=True):
        assert back.id == str(tree.public_id)
        assert math.dist(place_of(tree), back.place_m) < 0.001
    for feature, one in zip(plan.features, read.features, strict=True):
        assert one.kind == feature.kind
        assert (one.height_m, one.flow_l_per_min) == (
            feature.height_m,
            feature.flow_l_per_min,
        )
        before = points_of(feature)
        ways = [before, before[::-1]]
        assert any(
            all(math.dist(a, b) < 0.001 for a, b in zip(way, one.points_m, strict=True))
            for way in ways
        )
    assert [corner.name for corner in read.corners] == ["A", "B"]
    assert read.left_out == [
        "Feature 9: neighbours' trees are written down on a page of their own."
    ]
    changes = changes_of(read, plan, may_be_outside=True)
    assert (changes.number, changes.same) == (0, 8)


def feature(geometry, **properties):
    return {"type": "Feature", "geometry": geometry, "properties": properties}


def near(*steps):
    """Return positions so many hundred-thousandths of a degree from the site."""
    return [[HERE[0] + x * 1e-5, HERE[1] + y * 1e-5] for x, y in steps]


RING = near((0, 0), (9, 0), (9, 9), (0, 9), (0, 0))
BOW = near((0, 0), (9, 9), (9, 0), (0, 9), (0, 0))
SQUARE = {"type": "Polygon", "coordinates": [RING]}
POINT = {"type": "Point", "coordinates": HERE}


def read(*features, **members):
    return read_geojson(
        json.dumps({"type": "FeatureCollection", "features": features, **members}), AXES
    )


def test_what_others_write_is_read_with_what_is_foreign_left_out():
    high = {"type": "Point", "coordinates": [*HERE, 120.5, 7]}
    hole = {
        "type": "Polygon",
        "coordinates": [RING, near((1, 1), (2, 1), (2, 2), (1, 1))],
    }
    several = {"type": "MultiPolygon", "coordinates": [[RING], [RING]]}
    mixed = {"type": "GeometryCollection", "geometries": [SQUARE, SQUARE]}
    found = read(
        feature(high, name="Anna", colour="red"),
        feature(hole, kind="Building", name="House", height_m=6),
        feature(several, kind="free", name="Beds", flow_l_per_min=3),
        feature(mixed, kind="paving"),
        feature(SQUARE, name="Meadow"),
        feature(POINT, kind="statue"),
        feature(None, kind="wall", name="Lost"),
        crs={"properties": {"name": "urn:ogc:def:crs:OGC:1.3:CRS84"}},
        generator="a map program",
    )
    assert [(p.name, p.kind, p.place_m) for p in found.plants] == [
        ("Anna", "tree", (0, 0))
    ]
    assert [(f.kind, f.name, f.height_m) for f in found.features] == [
        ("building", "House", 6),
        ("free", "Beds 1", None),
        ("free", "Beds 2", None),
        ("paving", "1", None),
        ("paving", "2", None),
    ]
    assert found.left_out == [
        "“House”: the hole in it.",
        "“Meadow” does not say what kind of thing it is.",
        "Feature 6: a plan has no kind “statue”.",
        "“Lost” has no place.",
    ]
    # RFC 7946, 3.1.6: readers should not reject the other winding.
    clockwise = {"type": "Polygon", "coordinates": [RING[::-1]]}
    assert len(read(feature(clockwise, kind="free")).features) == 1
    lone = read_geojson(json.dumps(POINT), AXES)
    assert len(lone.plants) == 1


DEEP: dict[str, object] = {"type": "GeometryCollection", "geometries": []}
for _ in range(6):
    DEEP = {"type": "GeometryCollection", "geometries": [DEEP]}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "line 1 cannot be read"),
        ("[1, 2]", "should be a FeatureCollection"),
        ('{"type": "Topology"}', "should be a FeatureCollection"),
        ('{"type": "FeatureCollection"}', "should be a FeatureCollection"),
        ('{"type": "FeatureCollection", "features": [3]}', "Number 1"),
        (b"\xff\xfe", "no text in UTF-8"),
        ("[" * 100_000, "nested too deeply"),
        ('{"type": ' + "9" * 5000 + "}", "a number that cannot be read"),
        ('{"type": "Point", "coordinates": [NaN, 1]}', "“NaN” where a number"),
        ('{"type": "Point", "coordinates": [Infinity, 1]}', "“Infinity” where"),
        ('{"type": "Point", "coordinates": [1e999, 1]}', "needs a longitude"),
        ('{"type": "Point", "coordinates": [1]}', "needs a longitude"),
        ('{"type": "Point", "coordinates": []}', "no geometry that can be read"),
        ('{"type": "Point", "coordinates": ["1", "2"]}', "no geometry"),
        ('{"type": "Point", "coordinates": [true, 2]}', "no geometry"),
        ('{"type": "Point", "coordinates": [[1, 2]]}', "no geometry"),
        ('{"type": "Feature", "geometry": 4}', "no geometry that can be read"),
        ('{"type": "Feature", "geometry": {"type": "Blob"}}', "no geometry"),
        (json.dumps(DEEP), "nested too deeply"),
        (json.dumps(POINT) + " " * MOST_BYTES, r"has 1\.0 MB"),
    ],
)
def test_what_is_no_geojson_is_told(text, words):
    with pytest.raises(PlanFileError, match=words):
        read_geojson(text, AXES)


@pytest.mark.parametrize(
    ("member", "words"),
    [
        (feature({"type": "Polygon", "coordinates": [BOW]}, kind="free", name="Bed"),
         "“Bed”: This outline crosses itself"),
        (feature({"type": "Polygon", "coordinates": [RING[:-1]]}, kind="free"),
         "Feature 1: its outline is open"),
        (feature({"type": "LineString", "coordinates": RING}, kind="building"),
         "a building should be a Polygon; here it is a LineString"),
        (feature(SQUARE, kind="tap", name="Tap"), "“Tap”: a tap should be a Point"),
        (feature(SQUARE, kind="tree", name="Anna"), "“Anna”: this should be one Point"),
        (feature({"type": "Point", "coordinates": HERE[::-1]}, name="Anna"),
         "“Anna”: these look swapped"),
        (feature({"type": "Point", "coordinates": [153.0, -27.5]}, name="Anna"),
         r"“Anna”: This lies [\d,]+ km from the site"),
        (feature(SQUARE, kind="building", name="Hut", height_m=-3),
         "“Hut”: height_m must be a number above 0 and up to 150"),
        (feature(SQUARE, kind="building", height_m="tall"), "height_m must be a number"),
        (feature(SQUARE, kind="building", height_m=10**400), "height_m must be"),
        (feature(POINT, kind="tap", flow_l_per_min=0), "flow_l_per_min must be"),
        (feature(POINT, kind="corner"), "A corner needs a name"),
        (feature(POINT, kind="corner", name="x" * 41), "name: write a text of up to 40"),
        (feature(POINT, name=["Anna"]), "Feature 1, name: write a text"),
        (feature(POINT, name="a\x00b"), "name: write a text"),
        (feature(POINT, name="\ud800"), "name: write a text"),
    ],
)  # fmt: skip
def test_what_cannot_stand_names_the_feature_and_the_field(member, words):
    with pytest.raises(PlanFileError, match=words):
        read(member)


def test_a_projected_system_is_refused_by_its_name():
    system = {"type": "name", "properties": {"name": "EPSG:3857"}}
    with pytest.raises(PlanFileError, match=r"“EPSG:3857”.*WGS 84"):
        read(feature(POINT), crs=system)
    with pytest.raises(PlanFileError, match="WGS 84"):
        read(feature(POINT), crs="EPSG:4326?")


def test_fifty_thousand_points_are_counted_and_refused():
    line = {"type": "LineString", "coordinates": [[0, 0]] * 50_000}
    with pytest.raises(PlanFileError, match="has 50,000 points; 5,000 are the most"):
        read(feature(line, kind="wall"))


def test_several_problems_are_told_together_but_not_without_end():
    with pytest.raises(PlanFileError) as error:
        read(*[feature(SQUARE, kind="tap")] * 40)
    assert len(error.value.problems) == 12
