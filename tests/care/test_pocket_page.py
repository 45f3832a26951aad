"""The page that a phone keeps for a week: light, whole, and without secrets."""

import gzip
from datetime import timedelta

import pytest
from django.contrib.messages import get_messages

from care.actions.holds import log_spray
from care.models import LogEntry
from orchard.models import WayIn
from tests.conftest import TODAY

PATH = "/s/test-site/pocket/"
BUDGET_BYTES = 25_000  # compressed, for thirty trees: what is promised


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def garden(make_tree, make_task, make_round):
    def make(number):
        trees = [
            make_tree(f"Apple {n}", position=n, tag=f"A{n}") for n in range(number)
        ]
        tasks = [make_task(tree, cautions=["feel_soil_first"]) for tree in trees]
        tasks += [make_task(tree, kind="pruning", key="2026", days=5) for tree in trees]
        make_round(TODAY, tasks[:number])
        return trees

    return make


def test_it_says_what_to_do_how_and_how_each_tree_is(
    grower, cast, site, garden, make_task, keep_plan
):
    tree, other = garden(2)
    task = make_task(
        tree, kind="planting", key="x", action="plant", unit="", amount=None
    )
    task.reason = {"code": "plant_now", "facts": [["checks", "flare_found fruit_off"]]}
    task.cautions = ["hand_dig_near_marks"]
    task.save()
    log_spray(
        site=site,
        trees=[other],
        product="Soap",
        waiting_days=5,
        person=cast.owner,
        on=TODAY,
        now=cast.owner.date_joined,
        note="",
    )
    keep_plan()
    answer = grower.get(PATH)
    assert answer.headers["Orchard-Pocket"] == "keep"
    words = answer.content.decode()
    for part in (
        "Written on Wednesday 2 July at",
        "Water Apple 0",
        "by Friday",
        "Take off all blossom and fruit this year.",
        "Within 60 cm (2 ft) of a mark dig by hand only",
        "At the first thunder",
        "A1 · Apple 1",
        "Soap was sprayed today",
        "Cold: bears",
        "In the seven days after",
    ):
        assert part in words, part


def test_a_line_is_ticked_with_and_without_a_script(
    grower, garden, keep_plan, cast, client_of
):
    garden(1)
    keep_plan()
    words = grower.get(PATH).content.decode()
    line = words[words.index('data-keep="task_done"') :]
    assert 'data-keep-kind="watering" data-keep-action="water"' in line
    path = words[: words.index('data-keep="task_done"')].rsplit('action="', 1)[1]
    assert grower.post(path.split('"')[0]).status_code == 302
    assert LogEntry.objects.get().person == cast.grower
    viewer = client_of(cast.viewer).get(PATH).content.decode()
    assert "data-keep=" not in viewer


def test_what_waits_to_be_told_is_not_used_up_by_a_copy(grower, garden, keep_plan):
    (tree,) = garden(1)
    keep_plan()
    grower.post(f"/s/test-site/trees/{tree.public_id}/note/", {"note": "Wasps"})
    grower.get(PATH)
    shown = grower.get(f"/s/test-site/trees/{tree.public_id}/")
    assert [str(one) for one in get_messages(shown.wsgi_request)]


def test_no_way_in_stands_on_a_page_that_a_phone_keeps(grower, site, garden, keep_plan):
    WayIn.objects.update_or_create(
        site=site, defaults={"key_note": "Under the pot", "gate": "Green gate"}
    )
    garden(1)
    keep_plan()
    words = grower.get(PATH).content.decode()
    assert "Under the pot" not in words
    assert "Green gate" not in words


def test_thirty_trees_are_a_light_page_in_as_many_queries_as_three(
    grower, garden, keep_plan, make_tree, make_task, django_assert_max_num_queries
):
    garden(3)
    keep_plan()
    grower.get(PATH)  # what is read once a process is read
    with django_assert_max_num_queries(60) as few:
        grower.get(PATH)
    for n in range(27):
        tree = make_tree(f"Pear {n}", species_key="pear", position=n + 5)
        make_task(tree, cautions=["feel_soil_first"])
        make_task(tree, kind="pruning", key="2026", days=5)
    keep_plan()
    with django_assert_max_num_queries(60) as many:
        answer = grower.get(PATH)
    assert len(many) == len(few)
    assert answer.content.decode().count("data-keep=") == 30
    assert len(gzip.compress(answer.content, 6)) < BUDGET_BYTES


def test_of_a_thousand_tasks_it_keeps_the_first_and_says_so(
    grower, make_tree, make_task, keep_plan
):
    tree = make_tree()
    for n in range(200):
        make_task(tree, key=f"k{n}")
    keep_plan()
    words = grower.get(PATH).content.decode()
    assert "50 more tasks are not in this copy" in words


def test_an_empty_site_says_so(grower, site):
    words = grower.get(PATH).content.decode()
    assert "Nothing was due on that day." in words
    assert "No trees stand here yet." in words


def test_a_quiet_week_leaves_waterings_to_tick(grower, make_tree, make_task, keep_plan):
    facts = [["unknown_water_days", 9]]
    make_task(
        make_tree(),
        reason={"code": "water_established", "facts": facts, "would_change": []},
        earliest=TODAY - timedelta(days=3),
    )
    keep_plan()
    words = grower.get(PATH).content.decode()
    assert "May need water: none was written down for a week" in words
    assert words.count("data-keep=") == 1
