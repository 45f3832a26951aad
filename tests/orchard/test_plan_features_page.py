"""What stands there: a yard in a minute, walls, wires and taps."""

import pytest
from shapely import Polygon

from orchard.actions.plans import add_corners
from orchard.models import Corner, Feature
from tests.orchard.plain_page import errors_of, page_of, text_of

URL = "/s/test-site/plan/features/"


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.coordinator)


def test_a_yard_of_12_by_20_metres_is_three_boxes(browser, site):
    assert "Begin with the boundary" in text_of(page_of(browser.get(URL)))
    page = page_of(browser.get(f"{URL}add/"))
    assert page.xpath("//*[@name='kind']/option[@selected]/@value") == ["boundary"]
    start = page.xpath("//*[@name='start']/@value")[0]
    posted = {"kind": "boundary", "start": start, "along_m": "20", "across_m": "12"}
    answer = browser.post(f"{URL}add/", {**posted, "has_corners": "on"}, follow=True)
    words = text_of(page_of(answer))
    assert "is on the plan. Its corners are named A, B, C, D." in words
    assert "Boundary of the garden240 m²" in words
    assert Polygon(Feature.objects.get().points_m).area == 240
    corners = [(c.name, c.x_m, c.y_m) for c in Corner.objects.order_by("id")]
    assert corners == [("A", 0, 0), ("B", 20, 0), ("C", 20, 12), ("D", 0, 12)]
    assert site.orchard.audit.filter(what="feature_added").count() == 1


def test_walls_wires_and_taps_by_corner_tape_and_number(browser, site):
    add_corners(site=site, corners={"A": (0.0, 0.0), "B": (5.0, 0.0)})
    for posted in (
        {"kind": "wall", "start": "A", "along_m": "12", "height_m": "2.5"},
        {"kind": "tap", "start": "3 from A, 4 from B", "flow_l_per_min": "15"},
        {"kind": "wires", "points": "A\n3 from A, 4 from B, left\n9, 9\n"},
        {
            "kind": "septic",
            "name": "Field",
            "start": "B",
            "along_m": "4",
            "across_m": "3",
        },
    ):
        assert browser.post(f"{URL}add/", posted).status_code == 302, posted
    points = {feature.kind: feature.points_m for feature in Feature.objects.all()}
    assert points["wall"] == [[0, 0], [12, 0]]
    assert points["tap"][0] == pytest.approx([1.8, 2.4])
    assert points["wires"][1] == pytest.approx([1.8, 2.4])
    assert points["septic"] == [[5, 0], [9, 0], [9, 3], [5, 3]]
    words = text_of(page_of(browser.get(URL)))
    assert "12 m long, 2.5 m high" in words
    assert "gives 15 L in one minute" in words
    assert "FieldSeptic drain field, 12 m²" in words


NO_FEATURES = [
    ({"kind": "building"}, "Write how far it goes along and across, or its points"),
    ({"kind": "building", "along_m": "4", "points": "0, 0"}, "not both"),
    ({"kind": "free", "points": "0, 0\n4, 4\n4, 0\n0, 4"}, "This outline crosses itself"),
    ({"kind": "free", "along_m": "4"}, "the same spot"),
    ({"kind": "free", "points": "0, 0\n5, 5"}, "needs at least 3 points"),
    ({"kind": "wall", "points": "0, 0\nnowhere"}, "Line 2: “nowhere” is no point"),
    ({"kind": "wall", "along_m": "-4"}, "-4 m cannot be right"),
    ({"kind": "wall", "along_m": "4", "height_m": "-2"}, "-2 m cannot be right"),
    ({"kind": "paving", "along_m": "4", "across_m": "4", "height_m": "2"}, "have a height"),
    ({"kind": "wall", "along_m": "4", "flow_l_per_min": "9"}, "Only a tap gives water"),
    ({"kind": "tap", "points": "1, 1\n2, 2"}, "one point, and 2 are written"),
    ({"kind": "wall", "start": "Z", "along_m": "4"}, "“Z” is no point"),
    ({"kind": "wall", "points": "0, 0\n9000, 0"}, "from the site"),
    ({"kind": "wall", "points": "0, 0\n" * 150 + "1, 1\n" * 60}, "210 points are too many"),
    ({"kind": "statue", "along_m": "4"}, "Select a valid choice"),
    ({"kind": "boundary", "along_m": "4", "across_m": "4"}, "The boundary is drawn already"),
]  # fmt: skip


def test_what_cannot_be_is_told_and_nothing_is_saved(browser):
    yard = {"kind": "boundary", "along_m": "20", "across_m": "12"}
    browser.post(f"{URL}add/", yard)
    for posted, words in NO_FEATURES:
        answer = browser.post(f"{URL}add/", posted)
        assert answer.status_code == 422
        page = page_of(answer)
        assert [error for error in errors_of(page) if words in error], posted
        kept = page.xpath("//*[@name='along_m']/@value")
        assert kept == ([posted["along_m"]] if "along_m" in posted else [])
    assert Feature.objects.count() == 1


def test_a_thing_is_changed_and_removed(browser, cast, client_of, site):
    exact = [[0.0, 0.0], [1 / 3, 4.0], [5.0, 5.0]]
    shed = Feature.objects.create(site=site, kind="building", points_m=exact)
    page = page_of(browser.get(f"{URL}{shed.pk}/"))
    typed = page.xpath("//*[@name='points']")[0].text.strip()
    assert typed == "0, 0\n0.33, 4\n5, 5"
    posted = {"kind": "building", "name": "Shed", "points": typed, "height_m": "3"}
    browser.post(f"{URL}{shed.pk}/", posted)
    shed.refresh_from_db()
    # Points that nobody touched stay exactly, however they are shown.
    assert (shed.name, shed.height_m, shed.points_m) == ("Shed", 3.0, exact)
    answer = browser.post(f"{URL}{shed.pk}/", {**posted, "points": "0, 0\n1, 1"})
    assert [e for e in errors_of(page_of(answer)) if "at least 3 points" in e]
    answer = browser.post(f"{URL}{shed.pk}/", {**posted, "points": ""})
    assert [e for e in errors_of(page_of(answer)) if "or its points" in e]
    seen = page_of(client_of(cast.viewer).get(URL))
    assert "Shed" in text_of(seen)
    assert not seen.xpath("//main//form")
    browser.post(f"{URL}{shed.pk}/remove/")
    assert not Feature.objects.exists()
    whats = [entry.what for entry in site.orchard.audit.all()[:2]]
    assert whats == ["feature_removed", "feature_changed"]


def test_a_long_list_costs_no_more_questions(
    browser, site, django_assert_max_num_queries
):
    Feature.objects.bulk_create(
        Feature(site=site, kind="wall", name=f"W{n}", points_m=[[0, n], [5, n]])
        for n in range(20)
    )
    with django_assert_max_num_queries(8):
        assert "W19" in text_of(page_of(browser.get(URL)))
