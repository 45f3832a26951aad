"""The drawing of a plan: arithmetic of scales by hand, sides, words apart."""

import itertools
from datetime import date

import pytest
from hypothesis import given, strategies as st

from care.charts.plan_chart import plan_chart
from care.charts.plan_frame import (
    FEET_TO_THE_INCH,
    FOOT_M,
    METRIC_RATIOS,
    SHEET,
    Extent,
    extent_of,
    grid_m,
    mm_per_m,
    north_on_page,
    scale_bar,
    screen_frame,
    sheet_frame,
    sheet_ratio,
)
from care.charts.plan_labels import WIDTH_SHARE, Wish, laid_out
from care.charts.plan_writing import NamedPlace, blocks_of
from care.facts import FeatureKind, PlanTime, Standing
from care.planning.drawing import drawing_of
from tests.care.science.layouts import feature, layout, plant, plants

TODAY = date(2014, 7, 1)
YARD = feature(FeatureKind.BOUNDARY, (0, 0), (12, 0), (12, 20), (0, 20))


def drawn(*things, time=PlanTime.GROWN, corners=(), words=None, **more):
    drawing = drawing_of(layout(*things, **more.pop("on", {})), time, TODAY)
    named = {each.id: each.name for each in drawing.layout.features}
    return plan_chart(drawing, corners, words or named, **{"in_feet": False, **more})


@pytest.mark.parametrize(
    ("ratio", "mm"),
    # By hand: a metre at 1:100 is 10 mm.
    [(50, 20.0), (100, 10.0), (200, 5.0), (1000, 1.0)],
)
def test_a_metre_on_paper_is_what_the_scale_says(ratio, mm):
    assert mm_per_m(ratio) == mm
    frame = sheet_frame(Extent(0, 0, 3, 4), ratio)
    (x, y), (right, _), (_, up) = (frame.at(at) for at in ((0, 0), (1, 0), (0, 1)))
    assert right - x == pytest.approx(mm)
    assert y - up == pytest.approx(mm)


def test_feet_to_the_inch_come_out_on_an_engineers_scale():
    # 10 ft to the inch is 1:120: ten feet are 25.4 mm.
    assert mm_per_m(120) * 10 * FOOT_M == pytest.approx(25.4)
    yard = Extent(0, 0, 50 * FOOT_M, 60 * FOOT_M)
    ratio = sheet_ratio(yard, in_feet=True)
    assert ratio == 120


def test_a_yard_of_12_by_20_metres_prints_at_1_to_100_and_a_ruler_measures_right():
    chart = drawn(YARD, is_sheet=True)
    assert chart.ratio == 100
    (shape,) = chart.shapes
    corners = [tuple(map(float, at.split(","))) for at in shape.points.split()]
    (left, low), (right, _), (_, high), _ = corners
    # 12 m are 120 mm, 20 m are 200 mm.
    assert right - left == pytest.approx(120, abs=0.11)
    assert low - high == pytest.approx(200, abs=0.11)
    bar = chart.bar
    assert bar.end_x - bar.x == pytest.approx(10 * bar.length_m, abs=0.02)
    # Both papers leave that much inside 12 mm of margin, and 20 mm for a heading: A4 is
    # 210 x 297 mm, Letter 215.9 x 279.4.
    assert chart.width <= min(210, 215.9) - 24
    assert SHEET.height <= min(297, 279.4) - 24 - 20


@given(st.floats(1, 3900), st.floats(1, 3900), st.booleans())
def test_the_largest_scale_that_fits_is_taken(width_m, height_m, in_feet):
    extent = Extent(-width_m / 2, 0, width_m / 2, height_m)
    ratio = sheet_ratio(extent, in_feet=in_feet)
    frame = sheet_frame(extent, ratio)
    assert width_m * frame.per_m <= SHEET.width
    assert frame.height <= SHEET.height
    ratios = (
        [12 * feet for feet in FEET_TO_THE_INCH] if in_feet else list(METRIC_RATIOS)
    )
    larger = ratios[: ratios.index(ratio)]
    for each in larger[-1:]:
        bigger = sheet_frame(extent, each)
        assert (
            width_m * bigger.per_m > SHEET.width - 2 * SHEET.margin
            or bigger.height > SHEET.height
        )


def test_what_is_farther_than_any_scale_still_has_one():
    assert sheet_ratio(Extent(0, 0, 9e6, 9e6), in_feet=False) == METRIC_RATIOS[-1]


@pytest.mark.parametrize(
    ("up_bearing_deg", "right", "down"),
    # North up, then with the east up the page to the left, then down, then right.
    [(0, 0, -1), (90, -1, 0), (180, 0, 1), (270, 1, 0)],
)
def test_the_arrow_points_north(up_bearing_deg, right, down):
    assert north_on_page(up_bearing_deg) == pytest.approx((right, down), abs=1e-12)
    north = drawn(YARD, on={"up_bearing_deg": up_bearing_deg}).north
    assert (north.x - north.tail_x, north.y - north.tail_y) == pytest.approx(
        (2 * 0.36 * 44 * right, 2 * 0.36 * 44 * down), abs=0.02
    )


def test_up_the_plan_is_up_the_screen_and_all_of_it_is_in():
    chart = drawn(YARD, plant(1, place_m=(3, 4)), plant(2, place_m=(3, 9)))
    first, second = chart.crowns
    assert (first.x, first.number, second.number) == (second.x, 1, 2)
    assert first.y > second.y
    for crown in chart.crowns:
        assert 0 <= crown.x - crown.radius <= crown.x + crown.radius <= chart.width
        assert 0 <= crown.y - crown.radius <= crown.y + crown.radius <= chart.height
    assert first.radius / (first.y - second.y) == pytest.approx(2.5 / 5.0, rel=0.01)


def test_all_times_show_one_cut_out_and_crowns_that_grow():
    some = plant(1, place_m=(0, 0), crown_width_m=1.0, planted_on=date(2014, 1, 1))
    charts = [drawn(some, time=time) for time in PlanTime]
    assert len({(chart.width, chart.height, chart.bar) for chart in charts}) == 1
    radii = [chart.crowns[0].radius for chart in charts]
    assert radii == sorted(radii)
    assert radii[0] * 5 == pytest.approx(radii[2], rel=0.01)


def test_everything_is_drawn_in_its_own_way_and_named():
    wires = feature(FeatureKind.WIRES, (0, 1), (6, 1), (12, 1), id=2)
    tap = feature(FeatureKind.TAP, (6, 10), id=3)
    house = feature(FeatureKind.BUILDING, (1, 14), (8, 14), (8, 19), (1, 19), id=4)
    beyond = plant(1, standing=Standing.NEIGHBOUR, place_m=(14, 18), block_name="")
    row = [plant(n, place_m=(3 * n, 6), block_name="Long row") for n in (1, 2)]
    chart = drawn(
        house,
        tap,
        wires,
        YARD,
        *row,
        beyond,
        corners=[NamedPlace("House SE", (8, 14))],
        words={1: "Yard", 2: "Wires", 3: "Tap 12 L/min", 4: "House"},
    )
    assert [shape.kind for shape in chart.shapes] == [
        "boundary",
        "building",
        "wires",
        "tap",
    ]
    assert [shape.is_area for shape in chart.shapes] == [True, True, False, False]
    assert chart.shapes[-1].radius > 0
    assert [crown.kind for crown in chart.crowns] == ["stands", "stands", "neighbour"]
    said = {each.words for each in chart.words}
    assert said == {
        "1",
        "2",
        "3",
        "Wires",
        "Tap 12 L/min",
        "House",
        "House SE",
        "Long row",
    }
    assert len(chart.corners) == 1
    blocks = blocks_of(drawing_of(layout(*row, beyond), PlanTime.TODAY, TODAY))
    assert blocks == (NamedPlace("Long row", (4.5, 6.0)),)


def test_an_empty_plan_is_an_empty_page_of_a_few_metres():
    chart = drawn()
    assert chart.shapes == chart.crowns == chart.words == ()
    assert extent_of([], []) == Extent(-2, -2, 2, 2)
    assert drawing_of(layout(), PlanTime.TODAY, TODAY).is_empty


def test_plants_without_a_place_are_named_apart():
    lost = plant(2, place_m=None)
    far = plant(3, standing=Standing.NEIGHBOUR, place_m=None, distance_m=12.0)
    drawing = drawing_of(layout(plant(1), lost, far), PlanTime.TODAY, TODAY)
    assert [each.number for each in drawing.plants] == [1]
    assert drawing.unplaced == (lost,)
    assert not drawing.is_empty


def test_grid_and_bar_are_round_in_the_readers_unit():
    extent = Extent(-1, 0, 11, 18)
    assert grid_m(extent, in_feet=False) == (
        2.0,
        [0.0, 2.0, 4.0, 6.0, 8.0, 10.0],
        [0.0, 2.0, 4.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0],
    )
    step_m, *_ = grid_m(extent, in_feet=True)
    assert step_m / FOOT_M == pytest.approx(10)
    assert scale_bar(screen_frame(extent), in_feet=False).length_m == 5
    assert scale_bar(
        screen_frame(extent), in_feet=True
    ).length_m / FOOT_M == pytest.approx(20)


@given(plants(most=6))
def test_numbers_are_all_there_and_other_words_never_lie_on_any(some):
    garden = [
        feature(FeatureKind.BUILDING, (2, 2), (9, 2), (9, 8), id=1, name="House"),
        feature(FeatureKind.WALL, (0, 12), (24, 12), id=2, name="Wall of the yard"),
    ]
    chart = drawn(*garden, *some)
    numbers = [each for each in chart.words if each.kind == "number"]
    assert len(numbers) == len(some)
    others = [each for each in chart.words if each.kind != "number"]
    for one, other in itertools.combinations(others, 2):
        assert not _overlap(one, other)
    for one, other in itertools.product(numbers, others):
        assert not _overlap(one, other)


def _overlap(one, other):
    reach = (len(one.words) + len(other.words)) * 13 * WIDTH_SHARE / 2
    return abs(one.x - other.x) < reach - 0.2 and abs(one.y - other.y) < 13 - 0.2


def test_words_give_way_and_what_must_be_said_is():
    at = {"x": 50.0, "y": 50.0, "kind": "soft"}
    size = {"text": 10, "width": 100, "height": 100}
    one, other = laid_out([Wish(words="here", **at), Wish(words="here", **at)], **size)
    assert (one.x, one.y) == (50.0, 53.0)
    assert other != one
    narrow = {"text": 10, "width": 20, "height": 12}
    assert laid_out([Wish(words="far too long", **at)], **narrow) == ()
    assert len(laid_out([Wish(words="7", is_must=True, **at)], **narrow)) == 1


def test_no_word_hides_the_sign_of_a_tap_or_a_corner():
    tap = feature(FeatureKind.TAP, (6, 10), id=3)
    pool = feature(FeatureKind.WATER, (5, 9), (7, 9), (7, 11), (5, 11), id=4)
    chart = drawn(
        YARD,
        tap,
        pool,
        corners=[NamedPlace("Gate", (2, 2))],
        words={3: "Tap", 4: "Pool"},
    )
    signs = [(chart.shapes[-1].x, chart.shapes[-1].y)]
    signs += [(cross.x, cross.y) for cross in chart.corners]
    assert len(chart.words) == 3
    for word, (x, y) in itertools.product(chart.words, signs):
        half = len(word.words) * 13 * WIDTH_SHARE / 2
        assert abs(word.x - x) > half or not 0 <= word.y - y + 3 <= 13


def test_what_is_still_to_come_is_drawn_apart():
    wanted = plant(1, standing=Standing.WANTED)
    planned = plant(2, place_m=(9, 9), planted_on=date(2014, 11, 1))
    stands = plant(3, place_m=(18, 9), planted_on=TODAY)
    kinds = [crown.kind for crown in drawn(wanted, planned, stands).crowns]
    assert kinds == ["to_come", "to_come", "stands"]


def test_a_block_can_be_looked_at_closer():
    row = [plant(n, place_m=(5.0 * n, 6.0), block_name="Long row") for n in range(3)]
    pots = [
        plant(
            n,
            place_m=(60.0 + n, 6.0),
            block_name="Patio",
            in_container=True,
            crown_width_m=0.8,
        )
        for n in (7, 8)
    ]
    whole, near = drawn(YARD, *row, *pots), drawn(YARD, *row, *pots, near="Patio")
    assert [each.words for each in near.words if each.kind == "number"] == ["4", "5"]
    assert len(near.crowns) == len(whole.crowns)
    # Two pots 1 m apart, 0.8 m wide, 1 m kept free round them, and 3 % room: at least
    # 4 m are shown.
    first, second = near.crowns[-2:]
    assert second.x - first.x == pytest.approx((360 - 12) / 4.0, rel=0.01)
    for crown in (first, second):
        assert 0 < crown.x < near.width
        assert 0 < crown.y < near.bottom


def test_a_number_stands_over_its_stem_in_its_place_or_beside_the_crown():
    wide, narrow, tiny = (
        plant(n, place_m=(6.0 * n, 6.0), grown_spread_m=width_m, crown_width_m=width_m)
        for n, width_m in enumerate((4.0, 1.2, 0.3))
    )
    chart = drawn(YARD, wide, narrow, tiny, time=PlanTime.TODAY)
    numbers = {each.words: each for each in chart.words if each.kind == "number"}
    first, second, third = chart.crowns
    assert numbers["1"].y < first.y - 1
    assert abs(numbers["1"].x - first.x) < 0.2
    assert abs(numbers["2"].x - second.x) < 0.2
    assert abs(numbers["3"].x - third.x) > third.radius
    assert first.stem > 0
    assert second.stem == 0
    assert third.stem > 0
