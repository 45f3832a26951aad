"""The plan as a file: sent, looked at, taken in, taken back."""

import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from geojson_pydantic import FeatureCollection

from orchard.actions.plans import add_corners, add_feature
from orchard.models import Corner, Feature, Planting, Tree, WantedTree
from orchard.plans.axes import PlanAxes
from orchard.views.trail_words import change_lines
from tests.conftest import TODAY
from tests.orchard.plain_page import errors_of, page_of, text_of

URL = "/s/test-site/plan/import/"
SENT = "/s/test-site/plan/plan.geojson"
YARD = [[0.0, 0.0], [20.0, 0.0], [20.0, 12.0], [0.0, 12.0]]
AXES = PlanAxes(47.45, -122.31)


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.coordinator)


@pytest.fixture
def drawn(site, make_tree):
    add_corners(site=site, corners={"A": (0.0, 0.0)})
    add_feature(site=site, values={"kind": "boundary", "points_m": YARD})
    planting = Planting.objects.create(site=site, name="Autumn", begun_on=TODAY)
    WantedTree.objects.create(
        planting=planting, name="Pear", species_key="pear", x_m=9.0, y_m=9.0
    )
    make_tree("Berta")
    return make_tree(
        "Anna", x_m=5.0, y_m=5.0, measured={"how": "words", "text": "5, 5"}
    )


def everything():
    """Return all that an import may touch."""
    return [
        list(model.objects.order_by("pk").values_list())
        for model in (Tree, WantedTree, Corner, Feature)
    ]


def sent(browser):
    return json.loads(browser.get(SENT).content)


def member(document, name):
    return next(f for f in document["features"] if f["properties"].get("name") == name)


def at(*place_m):
    return list(AXES.to_earth(*place_m))


def changed_file(browser):
    """Return the plan's own file after somebody worked on it."""
    document = sent(browser)
    member(document, "Anna")["geometry"]["coordinates"] = at(6.0, 5.0)
    member(document, "Pear")["geometry"]["coordinates"] = at(9.0, 3.0)
    member(document, "A")["geometry"]["coordinates"] = at(1.0, 0.0)
    berta = {"type": "Point", "coordinates": at(3.0, 3.0)}
    wall = {"type": "LineString", "coordinates": [at(0, 12), at(20, 12)]}
    yard = document["features"][0]
    ring = [at(0, 0), at(22, 0), at(22, 12), at(0, 12), at(0, 0)]
    yard["geometry"]["coordinates"] = [ring]
    for geometry, properties in (
        (berta, {"name": "Berta"}),
        (berta, {"name": "Fig nobody entered"}),
        (wall, {"kind": "wall", "name": "North wall", "height_m": 2}),
        ({"type": "Point", "coordinates": at(0, 0)}, {"kind": "corner", "name": "B"}),
    ):
        new = {"type": "Feature", "geometry": geometry, "properties": properties}
        document["features"].append(new)
    return json.dumps(document)


def confirm(browser, preview):
    form = page_of(preview).xpath("//form[.//button[@name='import']]")[0]
    values = {each.get("name"): each.get("value") for each in form.xpath(".//input")}
    return browser.post(URL, {**values, "import": "1"}, follow=True)


def test_it_is_sent_as_geojson(browser, drawn):
    answer = browser.get(SENT)
    assert answer.headers["Content-Type"] == "application/geo+json"
    assert 'filename="test-site-plan.geojson"' in answer.headers["Content-Disposition"]
    collection = FeatureCollection.model_validate_json(answer.content)
    kinds = [each.properties["kind"] for each in collection.features]
    assert kinds == ["boundary", "corner", "tree", "wanted"]
    assert collection.features[2].id == str(drawn.public_id)


def test_a_file_is_looked_at_taken_in_and_taken_back_exactly(browser, drawn, site):
    before = everything()
    upload = SimpleUploadedFile("garden.geojson", changed_file(browser).encode())
    preview = browser.post(URL, {"file": upload})
    words = text_of(page_of(preview))
    assert everything() == before
    for told in (
        "Trees that get a place or another one: 3",
        "Anna6 m along, 5 m across",
        "New things: 1North wall",
        "Changed things: 1Boundary of the garden",
        "Corners, new or moved: 2",
        "Trees nobody entered here: 1Fig nobody entered.",
    ):
        assert told.replace(" ", "") in words.replace(" ", "")
    answer = confirm(browser, preview)
    words = text_of(page_of(answer))
    assert "The file is on the plan: 7 things changed." in words
    drawn.refresh_from_db()
    assert (drawn.x_m, drawn.y_m) == pytest.approx((6, 5), abs=1e-3)
    assert drawn.measured == {"how": "file"}
    assert Feature.objects.get(kind="wall").height_m == 2
    entry = site.orchard.audit.get(what="plan_imported")
    assert entry.subject == "garden.geojson"
    # What the program keeps for taking it back is no reading for people.
    assert change_lines(entry) == ["things changed: 7"]
    undo = page_of(answer).xpath("//form[contains(@action, 'take-back')]/@action")[0]
    words = text_of(page_of(browser.post(undo, follow=True)))
    assert "The plan is as it was before that file." in words
    assert everything() == before
    assert browser.post(undo).status_code == 404
    assert "Take it back" not in text_of(page_of(browser.get(URL)))


def test_what_was_changed_since_is_left_alone_and_named(browser, drawn, site):
    text = changed_file(browser)
    undo = page_of(confirm(browser, browser.post(URL, {"text": text}))).xpath(
        "//form[contains(@action, 'take-back')]/@action"
    )[0]
    Tree.objects.filter(pk=drawn.pk).update(x_m=7.0)
    Feature.objects.get(kind="wall").delete()
    words = text_of(page_of(browser.post(undo, follow=True)))
    assert "Left as they are, changed since:" in words
    assert "Anna" in words
    assert "North wall" in words
    drawn.refresh_from_db()
    assert drawn.x_m == 7.0
    assert Corner.objects.get().x_m == 0.0


def test_only_what_was_seen_is_written(browser, drawn):
    text = changed_file(browser)
    before = everything()
    answer = browser.post(URL, {"text": text, "import": "1", "seen": "guessed"})
    assert "Nothing is changed yet." in text_of(page_of(answer))
    assert everything() == before
    own = json.dumps(sent(browser))
    words = text_of(page_of(browser.post(URL, {"text": own})))
    assert "This file changes nothing" in words
    assert "As they are already: 4." in words


def bow_tie():
    ring = [at(0, 0), at(4, 4), at(4, 0), at(0, 4), at(0, 0)]
    return feature({"type": "Polygon", "coordinates": [ring]}, kind="free", name="Bed")


def feature(geometry, **properties):
    member = {"type": "Feature", "geometry": geometry, "properties": properties}
    return json.dumps({"type": "FeatureCollection", "features": [member]})


def point(*coordinates):
    return {"type": "Point", "coordinates": coordinates}


def line(number):
    return {"type": "LineString", "coordinates": [[-122.3100001, 47.4500001]] * number}


NO_FILES = [
    ("", "Choose a file, or paste its text"),
    ("{", "This is no GeoJSON: line 1"),
    (feature(line(50_000), kind="wall"), "has 1.4 MB; a plan has at most 1 MB"),
    (
        feature({"type": "LineString", "coordinates": [[1, 2]] * 50_000}, kind="wall"),
        "has 50,000 points; 5,000 are the most",
    ),
    (bow_tie(), "“Bed”: This outline crosses itself, 2 m along and 2 m across"),
    (feature(point(153.0, -27.5), name="Anna"), "“Anna”: This lies"),
    (feature(point(47.45, -122.31), name="Anna"), "“Anna”: these look swapped"),
    (feature(point(*at(5, 14)), name="Anna"), "“Anna”: This is 2 m outside"),
    (feature(point(*at(9, 9)), name="Anna"), "“Anna”: “Pear” stands there already"),
    (feature(point(*at(1, 1)), kind="tap", flow_l_per_min=-1), "flow_l_per_min must be"),
]  # fmt: skip


def test_a_file_that_cannot_be_is_told_and_nothing_is_saved(browser, drawn, site):
    before, revision = everything(), type(site).objects.get(pk=site.pk).revision
    for text, words in NO_FILES:
        answer = browser.post(URL, {"text": text})
        assert answer.status_code == 422
        assert [e for e in errors_of(page_of(answer)) if words in e], text[:80]
    # No browser keeps a chosen file: its text comes back, to be corrected.
    crossing = SimpleUploadedFile("bed.json", bow_tie().encode())
    page = page_of(browser.post(URL, {"file": crossing}))
    assert page.xpath("//*[@name='text']")[0].text.strip() == bow_tie()
    large = SimpleUploadedFile("x.json", b" " * 1_200_000)
    answer = browser.post(URL, {"file": large})
    assert [e for e in errors_of(page_of(answer)) if "has 1.2 MB" in e]
    huge = SimpleUploadedFile("x.json", b" " * 6_000_000)
    answer = browser.post(URL, {"file": huge})
    assert [e for e in errors_of(page_of(answer)) if "has 6.0 MB" in e]
    assert everything() == before
    assert type(site).objects.get(pk=site.pk).revision == revision


def test_a_tree_beyond_the_line_is_taken_when_it_is_meant(browser, drawn):
    text = feature(point(*at(5, 14)), name="Anna")
    preview = browser.post(URL, {"text": text, "may_be_outside": "on"})
    confirm(browser, preview)
    drawn.refresh_from_db()
    assert drawn.y_m == pytest.approx(14, abs=1e-3)
