"""The list of trees and the page of one."""

from datetime import date, timedelta

import pytest

from care.models import LogEntry
from orchard.actions.weather import set_normals
from orchard.models import Tree
from tests.conftest import TODAY

TREES = "/s/test-site/trees/"
# Twelve months of a mild dry-summer climate, made up for these tests.
NORMALS = [
    (month, 2 + 1.5 * warm, 8 + 2.5 * warm, 120 - 17 * warm)
    for month, warm in enumerate((0, 1, 2, 3, 5, 6, 7, 7, 5, 3, 1, 0), start=1)
]


def text(response):
    return " ".join(response.content.decode().split())


def address(tree, verb=""):
    return f"{TREES}{tree.public_id}/{verb}"


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def pot(make_tree):
    return make_tree(
        "Lemon", species_key="lemon", in_container=True, container_litres=50.0
    )


def test_trees_stand_by_block_with_one_phrase_on_their_state(
    grower, make_tree, make_task, keep_plan
):
    make_task(make_tree("Anna", tag="A1", cultivar="Gravenstein"))
    make_tree("Quiet one")
    keep_plan()
    page = text(grower.get(TREES))
    assert "Long row" in page
    assert "A1 · Anna" in page
    assert "Apple \N{LEFT SINGLE QUOTATION MARK}Gravenstein" in page
    assert "Water it: by Friday" in page
    assert "Needs nothing in sight" in page


def test_a_search_looks_at_name_tag_species_and_block(grower, make_tree, keep_plan):
    make_tree("Anna", tag="A1")
    make_tree("Berta", species_key="pear")
    keep_plan()
    for words, found, missed in (
        ("ann", "Anna", "Berta"),
        ("european PEAR", "Berta", "Anna"),
        ("a1 long", "Anna", "Berta"),
    ):
        page = text(grower.get(TREES, {"q": words}))
        assert found in page
        assert f">{missed}<" not in page


def test_a_search_without_a_find_offers_all(grower, make_tree, keep_plan):
    make_tree()
    keep_plan()
    page = text(grower.get(TREES, {"q": "<b>zebra"}))
    assert "No tree fits" in page
    assert "<b>zebra" not in page


def test_an_empty_site_shows_three_ways_to_begin(cast, client_of, site, keep_plan):
    keep_plan()
    page = text(client_of(cast.owner).get(TREES))
    assert "Three ways to begin" in page
    for way in ("trees/add/", "trees/paste/", "weather/"):
        assert f"/s/test-site/{way}" in page


def test_a_viewer_of_an_empty_site_is_told_whom_to_ask(
    cast, client_of, site, keep_plan
):
    keep_plan()
    assert "An owner or coordinator" in text(client_of(cast.viewer).get(TREES))


def test_the_list_asks_the_database_as_often_for_30_trees_as_for_3(
    grower, make_tree, make_task, keep_plan, django_assert_num_queries
):
    for number in range(3):
        make_task(make_tree(f"Few {number}"))
    keep_plan()
    grower.get(TREES)
    with django_assert_num_queries(13):
        grower.get(TREES)
    for number in range(27):
        make_task(make_tree(f"Many {number}"))
    keep_plan()
    with django_assert_num_queries(13):
        grower.get(TREES)


def test_a_tree_tells_what_is_known_and_where_each_figure_comes_from(
    grower, make_tree, keep_plan
):
    tree = make_tree("Anna", height_m=None)
    keep_plan()
    page = text(grower.get(address(tree)))
    assert "not measured" in page
    assert "1 March 2020" in page
    # Apple, full leaf, no ground cover: 0.95, FAO-56 table 12 (Allen et al. 1998).
    assert "0.95" in page
    assert "https://www.fao.org/4/x0490e/x0490e0b.htm" in page
    assert ">FAO-56 tables 12 and 22</a>" in page
    assert "from memory, unverified" in page


@pytest.mark.parametrize(
    ("kind", "action", "said"),
    [
        ("suckers", "pull_sprouts", "Pull its water sprouts"),
        ("heat", "guard_bark", "Guard its bark from the sun"),
        ("potting", "root_prune", "Repot it and trim its roots"),
        ("harvest", "look", "Look whether it is ripe"),
    ],
)
def test_the_list_speaks_of_a_tree_as_people_do(
    grower, make_tree, make_task, keep_plan, kind, action, said
):
    make_task(make_tree(), kind=kind, action=action, amount=None, unit="")
    keep_plan()
    assert said in text(grower.get(TREES))


def test_without_weather_the_water_is_called_unknown(grower, make_tree, keep_plan):
    tree = make_tree()
    keep_plan()
    page = text(grower.get(address(tree)))
    assert "Unknown: without weather there is no reckoning." in page
    assert "<svg" not in page


def test_with_weather_the_water_is_told_and_drawn(grower, site, make_tree):
    set_normals(site=site, months=NORMALS)
    tree = make_tree("Anna")
    page = text(grower.get(address(tree)))
    assert "left of the" in page
    assert "<svg" in page
    assert "The same as a table" in page
    assert "style=" not in page


def test_how_the_soil_felt_is_one_tap(grower, cast, make_tree, keep_plan):
    tree = make_tree()
    keep_plan()
    assert "A finger deep" in text(grower.get(address(tree)))
    grower.post(address(tree, "observe/"), {"what": "soil_feel", "word": "dry"})
    entry = LogEntry.objects.get()
    assert (entry.what, entry.kind, entry.word, entry.person) == (
        "observed",
        "soil_feel",
        "dry",
        cast.grower,
    )


def test_a_length_is_stored_in_millimetres(cast, client_of, make_tree):
    cast.grower.units = "us"
    cast.grower.save()
    tree = make_tree()
    client_of(cast.grower).post(
        address(tree, "observe/"), {"what": "mulch_depth_mm", "value": "3"}
    )
    assert LogEntry.objects.get().amount == pytest.approx(76.2)  # 3 in


@pytest.mark.parametrize(
    ("posted", "status"),
    [
        ({"what": "soil_feel", "word": "salty"}, 422),
        ({"what": "mulch_depth_mm", "value": ""}, 422),
        ({"what": "mulch_depth_mm", "value": "4000"}, 422),
        ({"what": "shoot_growth_mm", "value": "much"}, 422),
        ({"what": "bloom_stage", "word": "purple"}, 422),
        ({"what": "mood", "word": "good"}, 404),
        ({}, 404),
    ],
)
def test_a_reading_that_says_nothing_is_refused(grower, make_tree, posted, status):
    tree = make_tree()
    assert grower.post(address(tree, "observe/"), posted).status_code == status
    assert not LogEntry.objects.exists()


def test_the_stages_offered_are_those_with_published_temperatures(
    grower, make_tree, keep_plan
):
    tree = make_tree()
    keep_plan()
    # Penn State Extension, critical temperatures: apple has a tight cluster.
    assert "Tight cluster" in text(grower.get(address(tree)))
    grower.post(
        address(tree, "observe/"), {"what": "bloom_stage", "word": "tight_cluster"}
    )
    assert LogEntry.objects.get().word == "tight_cluster"


def test_a_harvest_may_be_written_down_later(grower, make_tree):
    tree = make_tree()
    day = TODAY - timedelta(days=40)
    grower.post(
        address(tree, "harvest/"),
        {"mass": "3,4", "on": day.isoformat(), "note": "Ripe"},
    )
    entry = LogEntry.objects.get()
    assert (entry.amount, entry.unit, entry.on, entry.note) == (3.4, "kg", day, "Ripe")


@pytest.mark.parametrize(
    "posted",
    [
        {"mass": "", "on": "2025-07-01"},
        {"mass": "0", "on": "2025-07-01"},
        {"mass": "2", "on": "2025-07-09"},
        {"mass": "2", "on": ""},
    ],
)
def test_a_harvest_needs_an_amount_and_a_day(grower, make_tree, posted):
    answer = grower.post(address(make_tree(), "harvest/"), posted)
    assert answer.status_code == 422
    assert not LogEntry.objects.exists()


def test_a_pot_is_moved_and_its_page_says_where_it_stands(grower, pot):
    grower.post(
        address(pot, "move/"), {"place": "indoors_unheated", "on": TODAY.isoformat()}
    )
    assert pot.stays.get().place == "indoors_unheated"
    assert "Indoors, unheated, since Wednesday 2 July" in text(grower.get(address(pot)))


def test_a_tree_in_the_ground_does_not_move(grower, make_tree):
    posted = {"place": "outdoors", "on": TODAY.isoformat()}
    assert grower.post(address(make_tree(), "move/"), posted).status_code == 404


def test_a_lost_tree_keeps_its_log_and_can_be_brought_back(cast, client_of, make_tree):
    tree = make_tree("Anna")
    owner = client_of(cast.owner)
    owner.post(
        address(tree, "end/"),
        {"status": "lost", "on": "2025-06-20", "reason": "Fire blight"},
    )
    tree.refresh_from_db()
    assert (tree.status, tree.ended_on) == (Tree.Status.LOST, date(2025, 6, 20))
    assert "No longer here" in text(owner.get(TREES))
    assert "Fire blight" in text(owner.get(address(tree)))
    entry = LogEntry.objects.get()
    owner.post(f"/s/test-site/log/{entry.public_id}/undo/")
    tree.refresh_from_db()
    assert tree.status == Tree.Status.ALIVE


def test_a_grower_cannot_bring_back_what_an_owner_wrote_off(cast, client_of, make_tree):
    tree = make_tree()
    client_of(cast.owner).post(
        address(tree, "end/"),
        {"status": "removed", "on": "2025-07-01", "reason": "Old"},
    )
    entry = LogEntry.objects.get()
    answer = client_of(cast.grower).post(f"/s/test-site/log/{entry.public_id}/undo/")
    assert answer.status_code == 403
    tree.refresh_from_db()
    assert tree.status == Tree.Status.REMOVED


def test_an_end_needs_a_word_and_a_reason(cast, client_of, make_tree):
    tree = make_tree()
    answer = client_of(cast.owner).post(address(tree, "end/"), {"on": "2025-07-01"})
    assert answer.status_code == 422
    assert "Choose what happened." in text(answer)
    tree.refresh_from_db()
    assert tree.status == Tree.Status.ALIVE


def test_a_note_is_kept_as_written_and_shown_escaped(grower, make_tree):
    tree = make_tree()
    grower.post(address(tree, "note/"), {"note": "Aphids <again>"})
    assert LogEntry.objects.get().note == "Aphids <again>"
    assert "Aphids &lt;again&gt;" in text(grower.get(address(tree)))
    assert grower.post(address(tree, "note/"), {"note": " "}).status_code == 422


def test_a_name_of_eighty_letters_and_another_script_is_shown_whole(
    grower, make_tree, keep_plan
):
    name = "שקד " * 20
    tree = make_tree(name)
    keep_plan()
    assert name.strip() in text(grower.get(address(tree)))


def test_the_cold_it_bears_today_is_told_with_the_alarm(grower, make_tree, keep_plan):
    apple, pot = (
        make_tree("Anna"),
        make_tree("Fig", species_key="fig", in_container=True, container_litres=40.0),
    )
    keep_plan()
    assert "the alarm rings from" in text(grower.get(address(apple)))
    assert "The pot comes in at" in text(grower.get(address(pot)))
    grower.post(
        address(apple, "observe/"), {"what": "bloom_stage", "word": "full_bloom"}
    )
    page = text(grower.get(address(apple)))
    # Penn State: 28 degF for apples in full bloom.
    assert "Open buds and flowers are hurt at -2.2 °C; the alarm rings from" in page
    assert "Hardened wood bears" in page
