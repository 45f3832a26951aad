"""The log: filters, pages, who did what, taking back."""

from datetime import timedelta

import pytest
from django.utils import timezone

from care.models import LogEntry
from tests.conftest import TODAY

LOG = "/s/test-site/log/"


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def write(site, cast):
    def one(tree, **values):
        facts = {
            "what": "done",
            "kind": "watering",
            "action": "water",
            "on": TODAY,
            "recorded_at": timezone.now(),
            "person": cast.grower,
            **values,
        }
        return LogEntry.objects.create(site=site, tree=tree, **facts)

    return one


@pytest.fixture
def viewer(cast, client_of):
    return client_of(cast.viewer)


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"amount": 18.0, "unit": "L"}, "Watered Anna, 18 L"),
        (
            {"key": "next/check", "action": "check", "word": "no_water"},
            "No water for Anna",
        ),
        (
            {"kind": "mulching", "action": "top_up", "amount": 120.0, "unit": "L"},
            "Mulched Anna, 120 L",
        ),
        (
            {"kind": "feeding", "action": "feed", "amount": 480.0, "unit": "g"},
            "Fed Anna, 480 g",
        ),
        (
            {"kind": "pruning", "action": "prune", "amount": 0.2, "unit": "share"},
            "Pruned Anna, 20%",
        ),
        ({"what": "skipped", "reason": "no_water"}, "Left out: water Anna"),
        ({"what": "skipped", "reason": "no_water"}, "No water at the tap"),
        (
            {"what": "observed", "kind": "soil_feel", "word": "dry"},
            "Soil of Anna felt dry",
        ),
        (
            {"what": "observed", "kind": "mulch_depth_mm", "amount": 60.0},
            "Measured the mulch of Anna, 60 mm",
        ),
        (
            {"what": "observed", "kind": "bloom_stage", "word": "full_bloom"},
            "Anna: full bloom",
        ),
        (
            {"what": "observed", "kind": "bloom_stage", "word": "post_bloom"},
            "Anna: petals fall",
        ),
        (
            {"what": "observed", "kind": "drained_after_l", "amount": 4.0},
            "Watered the pot of Anna until some ran out, 4 L",
        ),
        (
            {"what": "observed", "kind": "drainage_hours", "amount": 6.5},
            "A test hole at Anna drained, 6.5 h",
        ),
        (
            {"kind": "spray", "amount": 7.0, "unit": "d", "product": "Soap"},
            "Sprayed Anna, 7 days to wait",
        ),
        (
            {"kind": "spray", "amount": 0.0, "unit": "d", "product": "Soap"},
            "Soap ·",
        ),
        (
            {"kind": "manure", "amount": 90.0, "unit": "d"},
            "Spread raw manure under Anna, 90 days to wait",
        ),
        (
            {"what": "harvested", "kind": "harvest", "amount": 12.0, "unit": "kg"},
            "Picked from Anna, 12 kg",
        ),
        (
            {"what": "moved", "kind": "move", "word": "indoors_heated"},
            "Moved Anna: indoors, heated",
        ),
        ({"what": "lost", "kind": "removed"}, "Anna removed"),
        ({"what": "note", "kind": "note", "note": "Leaves curl."}, "Leaves curl."),
    ],
)
def test_every_kind_of_entry_reads_as_a_sentence(
    viewer, make_tree, write, values, said
):
    write(make_tree("Anna"), **values)
    assert said in text(viewer.get(LOG))


def test_mulch_is_measured_in_cubic_feet_by_us_members(
    cast, client_of, make_tree, write
):
    cast.viewer.units = "us"
    cast.viewer.save()
    write(make_tree("Anna"), kind="mulching", action="top_up", amount=120.0, unit="L")
    # 28.3168 L a cubic foot: NIST SP 811 (2008), appendix B.8.
    assert "4.2 cu ft" in text(client_of(cast.viewer).get(LOG))


def test_the_log_can_be_narrowed_to_a_kind_and_a_tree(viewer, make_tree, write):
    anna, berta = make_tree("Anna"), make_tree("Berta")
    write(anna)
    write(berta)
    write(anna, kind="feeding", action="feed")
    page = text(viewer.get(LOG, {"kind": "watering", "tree": str(anna.pk)}))
    assert "Watered Anna" in page
    assert "Watered Berta" not in page
    assert "Fed Anna" not in page


@pytest.mark.parametrize(
    "query", [{"kind": "<x>"}, {"tree": "x' or 1"}, {"page": "zero"}, {"page": "999"}]
)
def test_odd_filters_show_something_sensible(viewer, make_tree, write, query):
    write(make_tree("Anna"))
    answer = viewer.get(LOG, query)
    assert answer.status_code == 200
    assert "Watered Anna" in text(answer)


def test_fifty_stand_on_a_page_newest_first(
    viewer, make_tree, write, django_assert_num_queries
):
    tree = make_tree("Anna")
    for days in range(60):
        write(tree, on=TODAY - timedelta(days=days))
    viewer.get(LOG)
    with django_assert_num_queries(12):
        first = text(viewer.get(LOG))
    second = text(viewer.get(LOG, {"page": "2"}))
    assert first.count("Watered Anna") == 50
    assert second.count("Watered Anna") == 10
    assert "Page 1 of 2" in first
    assert first.index("today") < first.index("yesterday")


def test_an_empty_log_says_what_will_stand_there(viewer, site):
    assert "Nothing has happened here yet." in text(viewer.get(LOG))


def test_taking_back_leaves_a_trace(cast, client_of, make_tree, write):
    entry = write(make_tree("Anna"))
    owner = client_of(cast.owner)
    owner.post(f"{LOG}{entry.public_id}/undo/", {"back": LOG})
    page = text(owner.get(LOG))
    assert "Watered Anna" in page
    assert "taken back by owner" in page
    assert f"{entry.public_id}/undo/" not in page


def test_taking_back_twice_is_no_error(cast, client_of, make_tree, write):
    entry = write(make_tree())
    owner = client_of(cast.owner)
    for _ in range(2):
        assert owner.post(f"{LOG}{entry.public_id}/undo/").status_code == 302


def test_an_entry_of_another_orchard_does_not_exist(cast, client_of, make_tree, write):
    entry = write(make_tree())
    address = f"/s/elsewhere/log/{entry.public_id}/undo/"
    assert client_of(cast.stranger).post(address).status_code == 404
    entry.refresh_from_db()
    assert entry.voided_at is None
