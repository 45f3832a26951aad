"""The tape-measure list: on a phone, one tree after the other."""

import pytest

from orchard.actions.plans import add_corners, add_feature, set_plan
from orchard.models import Planting, Site, Tree, WantedTree
from tests.conftest import TODAY
from tests.orchard.plain_page import errors_of, page_of, text_of

URL = "/s/test-site/plan/measure/"
YARD = [[0.0, -1.0], [20.0, -1.0], [20.0, 12.0], [0.0, 12.0]]


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.coordinator)


@pytest.fixture
def corners(site):
    found = add_corners(site=site, corners={"A": (0.0, 0.0), "B": (5.0, 0.0)})
    add_feature(site=site, values={"kind": "boundary", "points_m": YARD})
    return found


@pytest.fixture
def row(make_tree):
    return [make_tree(name) for name in ("Anna", "Berta", "Carla", "Dora")]


def wanted_pear(site):
    planting = Planting.objects.create(site=site, name="Autumn", begun_on=TODAY)
    return WantedTree.objects.create(planting=planting, name="Pear", species_key="pear")


def taped(tree, corners, first_m="3", second_m="4", **changes):
    first, second = corners
    return {
        "way": "tape",
        "plant": f"tree-{tree.pk}",
        "first": first.pk,
        "first_m": first_m,
        "second": second.pk,
        "second_m": second_m,
        "side": "garden",
        **changes,
    }


def place(tree):
    tree.refresh_from_db()
    return tree.x_m, tree.y_m


def chosen(page, name, form="tape"):
    return page.xpath(
        f"//*[@id='{form}_{name}']/option[@selected]/@value"
    ) or page.xpath(f"//*[@id='{form}_{name}']/optgroup/option[@selected]/@value")


def test_trees_are_measured_one_after_the_other(browser, site, corners, row):
    before = Site.objects.get(pk=site.pk).revision
    first = page_of(browser.get(URL))
    assert "Without a place: 4" in text_of(first)
    assert chosen(first, "plant") == [f"tree-{row[0].pk}"]
    again = taped(row[0], corners, first=corners[1].pk, second=corners[0].pk)
    answer = browser.post(f"{URL}place/", again, follow=True)
    # 3 from B and 4 from A: the triangle of 3, 4, 5 the other way round.
    assert place(row[0]) == pytest.approx((3.2, 2.4))
    page = page_of(answer)
    words = text_of(page)
    assert "Anna stands 3.2 m along, 2.4 m across." in words
    assert "3.2 m along, 2.4 m across · 3 m from B, 4 m from A" in words
    assert "Without a place: 3 Berta" in words
    # The next tree is chosen and the corners stay as they were.
    assert chosen(page, "plant") == [f"tree-{row[1].pk}"]
    assert chosen(page, "first") == [str(corners[1].pk)]
    assert Site.objects.get(pk=site.pk).revision == before + 1
    assert site.orchard.audit.latest("id").what == "plant_placed"


def test_a_wanted_tree_is_measured_and_pinned_and_forgotten(browser, site, corners):
    pear = wanted_pear(site)
    posted = {**taped(pear, corners), "plant": f"wanted-{pear.pk}"}
    words = text_of(page_of(browser.post(f"{URL}place/", posted, follow=True)))
    assert "Pear stands 1.8 m along, 2.4 m across." in words
    pear.refresh_from_db()
    assert pear.is_pinned
    posted = {"plant": f"wanted-{pear.pk}"}
    browser.post(f"{URL}forget/", posted)
    pear.refresh_from_db()
    assert (pear.x_m, pear.is_pinned) == (None, False)
    assert site.orchard.audit.latest("id").what == "place_cleared"


def test_feet_and_inches_for_whoever_measures_so(browser, cast, corners, row):
    cast.coordinator.units = "us"
    cast.coordinator.save()
    page = page_of(browser.get(URL))
    assert not page.xpath("//*[@id='tape_first_m']/@inputmode")
    posted = taped(row[0], corners, "9'10\"", "13")
    answer = browser.post(f"{URL}place/", posted, follow=True)
    # 118 in and 13 ft over 5 m: by the law of cosines.
    a, b = 118 * 0.0254, 13 * 0.3048
    along = (a**2 - b**2 + 25) / 10
    assert place(row[0]) == pytest.approx((along, (a**2 - along**2) ** 0.5))
    assert "9'10\" from A, 13 ft from B" in text_of(page_of(answer))


MISTAKES = [
    ({"first_m": "1", "second_m": "2"}, "1 m from A and 2 m from B cannot meet: A"),
    ({"first_m": ""}, "How far is it from there?"),
    ({"first_m": "-3"}, "-3 m cannot be right: it must be from 0 m to 500 m"),
    ({"first_m": "long"}, "“long” is not a number"),
    ({"side": "right", "first_m": "10", "second_m": "9"}, "outside the boundary"),
    ({"plant": "tree-0"}, "Select a valid choice"),
    ({"second": ""}, "This field is required"),
]


def test_a_mistake_is_told_at_its_box_and_nothing_is_saved(browser, corners, row):
    for posted, words in MISTAKES:
        answer = browser.post(f"{URL}place/", taped(row[0], corners, **posted))
        assert answer.status_code == 422
        page = page_of(answer)
        assert [error for error in errors_of(page) if words in error], posted
        typed = posted.get("first_m", "3")
        kept = page.xpath("//*[@id='tape_first_m']/@value")
        assert kept == ([typed] if typed else [])
    assert place(row[0]) == (None, None)


def test_a_tree_beyond_the_line_says_how_far_and_is_kept_when_it_is_meant(
    browser, corners, row
):
    # 5 across to the right of A-B, so 4 m below the boundary's lower side.
    posted = {"way": "words", "plant": f"tree-{row[0].pk}", "where": "0, -5"}
    page = page_of(browser.post(f"{URL}place/", posted))
    told = [each for each in errors_of(page) if "This is 4 m outside" in each]
    assert told
    assert place(row[0]) == (None, None)
    browser.post(f"{URL}place/", {**posted, "is_outside": "on"})
    assert place(row[0]) == (0.0, -5.0)


def test_two_trees_in_one_spot_are_refused(browser, corners, row):
    browser.post(f"{URL}place/", taped(row[0], corners))
    answer = browser.post(f"{URL}place/", taped(row[1], corners, "3.05", "4"))
    assert [e for e in errors_of(page_of(answer)) if "“Anna” stands there already" in e]
    assert place(row[1]) == (None, None)


def test_a_phone_finds_a_tree_and_says_how_far_off_it_may_be(browser, site, row):
    set_plan(
        site=site,
        values={
            "up_bearing_deg": 90.0,
            "origin_latitude_deg": 47.45,
            "origin_longitude_deg": -122.31,
        },
    )
    posted = {"way": "phone", "plant": f"tree-{row[0].pk}"}
    answer = browser.post(
        f"{URL}place/", {**posted, "position": "47.4501, -122.31"}, follow=True
    )
    # 11.1 m north of the origin; up the page is east, so north is to the left.
    assert place(row[0]) == pytest.approx((-11.12, 0), abs=0.01)
    assert "by phone, which may be 10 m off" in text_of(page_of(answer))
    for position, words in (
        ("-122.31, 47.4501", "look swapped"),
        ("-27.5, 153.0", "km from the site"),
        ("by the gate", "is no position"),
        ("95 400", "nowhere on the earth"),
    ):
        answer = browser.post(f"{URL}place/", {**posted, "position": position})
        assert [e for e in errors_of(page_of(answer)) if words in e], position
    assert place(row[0]) == pytest.approx((-11.12, 0), abs=0.01)


def row_posted(row, **values):
    return {"first": f"tree-{row[0].pk}", "last": f"tree-{row[-1].pk}", **values}


def test_a_row_in_the_order_of_the_walk(browser, corners, row):
    ends = row_posted(row, first_where="2, 5", last_where="11, 5")
    words = text_of(page_of(browser.post(f"{URL}row/", ends, follow=True)))
    assert "4 trees have their place: in a row from Anna to Dora, 3 m apart." in words
    assert [place(tree) for tree in row] == [(2, 5), (5, 5), (8, 5), (11, 5)]
    # By compass and spacing, backwards, from where the last one is already.
    ends = row_posted(row[::-1], spacing_m="2", bearing_deg="0")
    browser.post(f"{URL}row/", ends)
    for number, tree in enumerate(row[::-1]):
        assert place(tree) == pytest.approx((11, 5 + 2 * number))


NO_ROWS = [
    ({}, "Where does the first one stand?"),
    ({"first_where": "2, 5"}, "Where does the last one stand?"),
    ({"first_where": "2, 5", "bearing_deg": "90"}, "How far is it from tree"),
    ({"first_where": "2, 5", "last_where": "far"}, "“far” is no point"),
    (
        {"first_where": "2, 5", "last_where": "11, 5", "spacing_m": "4"},
        "4 trees 4 m apart need 12 m; between both ends are 9 m",
    ),
    ({"first_where": "2, 5", "last_where": "2.1, 5"}, "would stand only 0.03 m"),
    ({"first_where": "2, 5", "last_where": "40, 5"}, "“Carla”: This is 7.33 m out"),
    ({"spacing_m": "-2"}, "must be from"),
    ({"last": "same"}, "A row has two trees at least"),
]


def test_a_row_that_cannot_be_is_told_whole(browser, corners, row):
    for values, words in NO_ROWS:
        posted = row_posted(row, **values)
        if posted["last"] == "same":
            posted["last"] = posted["first"]
        answer = browser.post(f"{URL}row/", posted)
        assert answer.status_code == 422
        assert [e for e in errors_of(page_of(answer)) if words in e], values
    assert not Tree.objects.exclude(x_m=None).exists()


def test_who_may_not_edit_sees_the_list_alone(cast, client_of, corners, row):
    page = page_of(client_of(cast.viewer).get(URL))
    assert "Without a place: 4" in text_of(page)
    assert not page.xpath("//main//form")


def test_it_says_what_to_do_first(browser, site, make_tree):
    assert "No trees here yet" in text_of(page_of(browser.get(URL)))
    make_tree("Anna")
    assert "Choose two corners" in text_of(page_of(browser.get(URL)))
    assert browser.post(f"{URL}place/", {"way": "guess"}).status_code == 404


def test_a_long_list_costs_no_more_questions(
    browser, corners, row, make_tree, django_assert_max_num_queries
):
    for number in range(12):
        make_tree(f"More {number}", x_m=float(number), y_m=1.0)
    with django_assert_max_num_queries(14):
        assert "More 11" in text_of(page_of(browser.get(URL)))
