"""What a person says of one tree from its page: sprays, manure, stages, plans."""

from datetime import date, timedelta

import pytest
from lxml import html  # type: ignore[import-untyped]  # lxml ships no types

from care.actions.logbook import observe
from care.models import LogEntry
from orchard.actions.weather import set_normals
from orchard.models import Tree
from tests.care.actions.test_holds import NOW
from tests.conftest import TODAY

DAY = timedelta(days=1)
SPRAY = {"product": "Soap", "waiting_days": "7", "on": str(TODAY)}
NORMALS = [(month, 10.0, 22.0, 60.0) for month in range(1, 13)]
MANURE = {"fruit": "touches", "on": str(TODAY)}


def text(response):
    return " ".join(response.content.decode().split())


def address(tree, verb=""):
    return f"/s/test-site/trees/{tree.public_id}/{verb}"


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


def test_a_spray_tells_on_the_trees_page_when_fruit_may_be_picked(grower, make_tree):
    tree = make_tree("Anna")
    page = text(grower.post(address(tree, "spray/"), SPRAY, follow=True))
    # Sprayed on 2 July with 7 days to wait: picked from 9 July on.
    assert "Do not pick before 9 July: Soap was sprayed today" in page
    assert "Sprayed Anna, 7 days to wait" in page


def test_the_list_of_trees_warns_whoever_picks(grower, make_tree, keep_plan):
    make_tree("Berta")
    tree = make_tree("Anna")
    for change in ({"waiting_days": "9"}, {"on": str(TODAY - 3 * DAY)}):
        grower.post(address(tree, "spray/"), {**SPRAY, **change})
    assert LogEntry.objects.count() == 2
    keep_plan()
    listed = text(grower.get("/s/test-site/trees/"))
    assert listed.count("Do not pick before 11 July") == 1
    assert listed.count("Do not pick before") == 1


def test_a_spray_undone_in_the_log_holds_nothing(grower, make_tree):
    tree = make_tree()
    grower.post(address(tree, "spray/"), SPRAY)
    entry = LogEntry.objects.get()
    grower.post(f"/s/test-site/log/{entry.public_id}/undo/")
    assert "Do not pick before" not in text(grower.get(address(tree)))


def test_the_longest_wait_counts(grower, make_tree):
    tree = make_tree()
    grower.post(address(tree, "spray/"), SPRAY)
    grower.post(
        address(tree, "manure/"), {"fruit": "hangs", "on": str(TODAY - 5 * DAY)}
    )
    # 27 June and 90 days: 25 September.
    page = text(grower.get(address(tree)))
    assert "Do not pick before 25 September: raw manure was spread" in page


def test_a_row_is_sprayed_in_one_go_but_for_what_is_not_there(grower, make_tree):
    trees = [make_tree("Anna"), make_tree("Berta")]
    make_tree("Far away", block=None)
    make_tree("Planned", planted_on=TODAY + DAY)
    make_tree("Lost", status=Tree.Status.LOST, ended_on=TODAY)
    grower.post(address(trees[0], "spray/"), {**SPRAY, "reach": "block"})
    sprayed = set(LogEntry.objects.values_list("tree__name", flat=True))
    assert sprayed == {"Anna", "Berta"}


def test_a_row_sprayed_by_mistake_is_undone_in_one_tap(grower, make_tree):
    trees = [make_tree(name) for name in ("Anna", "Berta", "Carla")]
    grower.post(address(trees[0], "spray/"), {**SPRAY, "reach": "block"})
    for page in (address(trees[1]), "/s/test-site/log/"):
        assert "Undo for all 3 trees" in text(grower.get(page))
    entry = LogEntry.objects.get(tree=trees[1])
    undo = f"/s/test-site/log/{entry.public_id}/undo/"
    page = text(grower.post(undo, {"all": "1"}, follow=True))
    assert "Taken back for 3 trees." in page
    assert not LogEntry.objects.filter(voided_at=None).exists()
    assert "Taken back for 0 trees." in text(
        grower.post(undo, {"all": "1"}, follow=True)
    )


def test_a_tree_without_a_block_is_sprayed_alone(grower, make_tree):
    tree = make_tree("Anna", block=None)
    make_tree("Berta", block=None)
    assert "Every tree of" not in text(grower.get(address(tree)))
    grower.post(address(tree, "spray/"), {**SPRAY, "reach": "block"})
    assert LogEntry.objects.get().tree == tree


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"product": ""}, "What does its label call it?"),
        ({"waiting_days": ""}, "How many days does its label say?"),
        ({"waiting_days": "a week"}, "Write whole days, such as 7."),
        ({"waiting_days": "-1"}, "greater than or equal to 0"),
        ({"waiting_days": "900"}, "less than or equal to 365"),
        ({"on": str(TODAY + DAY)}, "That day has not come yet."),
        ({"on": ""}, "Which day was it?"),
        ({"reach": "county"}, "Select a valid choice"),
    ],
)
def test_a_mistake_in_a_spray_is_named_and_nothing_is_lost(
    grower, make_tree, changed, words
):
    tree = make_tree()
    posted = {**SPRAY, "note": "Calm evening", **changed}
    answer = grower.post(address(tree, "spray/"), posted)
    assert answer.status_code == 422
    page = text(answer)
    assert words in page
    assert "Calm evening" in page
    assert not LogEntry.objects.exists()


@pytest.mark.parametrize("fruit", ["", "floats"])
def test_manure_needs_to_know_where_the_fruit_hangs(grower, make_tree, fruit):
    answer = grower.post(
        address(make_tree(), "manure/"), {"fruit": fruit, "on": str(TODAY)}
    )
    assert answer.status_code == 422
    assert not LogEntry.objects.exists()


def test_the_safe_wait_after_manure_is_chosen_at_first(grower, make_tree):
    tree = make_tree()
    page = html.fromstring(grower.get(address(tree)).content.decode())
    assert page.xpath("//input[@name='fruit'][@checked]/@value") == ["touches"]
    grower.post(address(tree, "manure/"), MANURE)
    assert LogEntry.objects.get().held_until == TODAY + 119 * DAY


def test_a_stage_is_two_taps(grower, make_tree, keep_plan):
    fig = make_tree("Fig", species_key="fig")
    keep_plan()
    page = text(grower.get(address(fig)))
    for words in ("Buds open, first green", "Petals fall", "Leaves drop"):
        assert f">{words} <span" in page
    grower.post(address(fig, "observe/"), {"what": "bloom_stage", "word": "bud_break"})
    assert LogEntry.objects.get().word == "bud_break"


def test_an_evergreen_neither_rests_bare_nor_drops_its_leaves(grower, make_tree):
    page = text(grower.get(address(make_tree("Lemon", species_key="lemon"))))
    assert "Petals fall" in page
    assert "Leaves drop" not in page
    assert "At rest" not in page


def test_litres_until_a_pot_drained_are_asked_of_pots_alone(grower, make_tree):
    pot = make_tree(
        "Lemon", species_key="lemon", in_container=True, container_litres=50.0
    )
    posted = {"what": "drained_after_l", "value": "4"}
    assert grower.post(address(pot, "observe/"), posted).status_code == 302
    assert LogEntry.objects.get().amount == 4.0
    assert grower.post(address(make_tree(), "observe/"), posted).status_code == 404


def test_a_drainage_test_is_kept_with_the_tree(grower, make_tree):
    tree = make_tree()
    posted = {"what": "drainage_hours", "value": "6,5"}
    page = text(grower.post(address(tree, "observe/"), posted, follow=True))
    tree.refresh_from_db()
    assert tree.drainage_hours == 6.5
    assert "A test hole drained in" in page


@pytest.fixture
def planned(make_tree):
    return make_tree("Fig", species_key="fig", planted_on=date(2026, 3, 14))


def test_a_planned_tree_says_when_it_is_to_be_planted(grower, planned, keep_plan):
    keep_plan()
    page = text(grower.get(address(planned)))
    assert "It is to be planted on 14 March 2026. Its care begins that day." in page
    assert "A finger deep" not in page
    assert "Picked fruit" not in page
    assert "A test hole filled with water was empty after, in hours" in page
    listed = text(grower.get("/s/test-site/trees/"))
    assert "Fig, in the ground, to be planted on 14 March 2026" in listed


def test_a_planned_tree_may_have_its_ground_tested_but_nothing_else(grower, planned):
    hole = {"what": "drainage_hours", "value": "6"}
    assert grower.post(address(planned, "observe/"), hole).status_code == 302


@pytest.mark.parametrize(
    ("verb", "posted"),
    [
        ("observe/", {"what": "shoot_growth_mm", "value": "6"}),
        ("observe/", {"what": "soil_feel", "word": "dry"}),
        ("observe/", {"what": "demand_reset"}),
        ("harvest/", {"mass": "2", "on": str(TODAY)}),
        ("spray/", {**SPRAY, "reach": "block"}),
        ("manure/", MANURE),
        ("move/", {"place": "indoors_unheated", "on": str(TODAY)}),
    ],
)
def test_what_cannot_have_happened_to_a_planned_tree_is_refused_in_words(
    grower, make_tree, verb, posted
):
    pot = make_tree(
        "Lemon",
        species_key="lemon",
        in_container=True,
        container_litres=50.0,
        planted_on=TODAY + 30 * DAY,
    )
    answer = grower.post(address(pot, verb), posted)
    assert answer.status_code == 422
    assert "Lemon is not planted yet" in text(answer)
    assert not LogEntry.objects.exists()
    assert not pot.stays.exists()


def test_what_was_learned_of_a_pot_is_shown_and_forgotten_in_two_taps(
    grower, site, make_tree, keep_plan
):
    set_normals(site=site, months=NORMALS)
    pot = make_tree(
        "Lemon", species_key="lemon", in_container=True, container_litres=50.0
    )
    grower.post(address(pot, "observe/"), {"what": "not_drained_l", "value": "9"})
    keep_plan()
    page = text(grower.get(address(pot)))
    assert "Watered the pot of Lemon and none ran out, 9 L" in page
    assert "Learned from one answer: " in page
    assert "Forget what was learned of its thirst" in page
    reset = {"what": "demand_reset"}
    page = text(grower.post(address(pot, "observe/"), reset, follow=True))
    assert "Forgot what was learned of the thirst of Lemon" in page
    assert "Learned from" not in page
    entry = LogEntry.objects.get(kind="demand_reset")
    grower.post(f"/s/test-site/log/{entry.public_id}/undo/")
    assert "Learned from one answer: " in text(grower.get(address(pot)))


def test_what_was_learned_of_growth_and_bloom_is_forgotten_and_comes_back(
    grower, site, make_tree
):
    apple = make_tree("Anna", species_key="apple", planted_on=date(2015, 3, 1))
    grower.post(address(apple, "observe/"), {"what": "shoot_growth_mm", "value": "300"})
    assert "Growth: shoots as long as they should be" in text(
        grower.get(address(apple))
    )
    page = text(
        grower.post(address(apple, "observe/"), {"what": "growth_reset"}, follow=True)
    )
    assert "Forgot what was learned of the growth of Anna" in page
    assert "Growth: shoots" not in page
    entry = LogEntry.objects.get(kind="growth_reset")
    grower.post(f"/s/test-site/log/{entry.public_id}/undo/")
    assert "Growth: shoots" in text(grower.get(address(apple)))
    grower.post(address(apple, "observe/"), {"what": "bloom_reset"})
    assert LogEntry.objects.filter(kind="bloom_reset", tree=apple).exists()


def test_the_cold_of_the_place_is_forgotten_from_any_trees_page(
    grower, site, make_tree
):
    tree = make_tree("Anna")
    page = text(
        grower.post(address(tree, "observe/"), {"what": "pocket_reset"}, follow=True)
    )
    assert "The cold of Test site is learned anew." in page
    entry = LogEntry.objects.get(kind="pocket_reset")
    assert (entry.tree, entry.site) == (None, site)
    log = text(grower.get("/s/test-site/log/"))
    assert "Forgot what was learned of the cold at the whole site" in log
    grower.post(f"/s/test-site/log/{entry.public_id}/undo/")
    entry.refresh_from_db()
    assert entry.voided_at is not None


def test_answers_that_do_not_fit_ask_for_measures_with_a_way_to_the_form(
    cast, client_of, site, make_tree
):
    set_normals(site=site, months=[(month, 14.0, 30.0, 0.0) for month in range(1, 13)])
    pot = make_tree(
        "Lemon",
        species_key="lemon",
        in_container=True,
        container_litres=50.0,
        crown_width_m=1.0,
        planted_on=date(2020, 3, 1),
        entered_on=TODAY - 60 * DAY,
    )
    for back in range(21, -1, -3):
        observe(
            tree=pot,
            what="drained_after_l",
            person=None,
            on=TODAY - back * DAY,
            now=NOW,
            value=5.0,
        )
    page = text(client_of(cast.coordinator).get(address(pot)))
    assert "Something does not fit" in page
    assert "learning stops here" in page
    form = f"/s/test-site/trees/{pot.public_id}/edit/?open=size"
    assert form in page
    opened = html.fromstring(client_of(cast.coordinator).get(form).content.decode())
    folds = opened.xpath("//details[@open]/summary/text()")
    assert [one.strip() for one in folds] == ["Size"]
    assert "?open=size" not in text(client_of(cast.grower).get(address(pot)))


def test_watering_all_leaves_out_what_is_not_planted_yet(grower, make_tree, planned):
    make_tree("Anna")
    make_tree("Today's", planted_on=TODAY)
    grower.post("/s/test-site/water-all/", {"litres": "10", "on": str(TODAY)})
    watered = set(LogEntry.objects.values_list("tree__name", flat=True))
    assert watered == {"Anna", "Today's"}
