"""The round of mine, of everyone, of one block: what shows, and what it acts on."""

from datetime import UTC, datetime, timedelta

import pytest

from care.models import LogEntry, Task
from orchard.actions.in_care import take
from orchard.actions.places import block_named
from orchard.models import Membership
from tests.conftest import TODAY

ROUND = "/s/test-site/"
NOW = datetime(2025, 7, 2, 12, 0, tzinfo=UTC)


def text(response):
    return " ".join(response.content.decode().split())


@pytest.fixture
def care(cast):
    """Let somebody look after a thing, or stand in."""

    def arrange(role, thing, **values):
        member = Membership.objects.get(person=getattr(cast, role))
        take(by=member, member=member, thing=thing, now=NOW, **values)

    return arrange


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def patio(site):
    return block_named(site=site, name="Patio")


@pytest.fixture
def three(make_tree, make_task, keep_plan, care, patio):
    """Anna is the grower's, Berta the coordinator's, Cleo nobody's; all due."""
    trees = [
        make_tree("Anna"),
        make_tree("Berta"),
        make_tree("Cleo", block=patio),
    ]
    tasks = [make_task(tree) for tree in trees]
    care("grower", trees[0])
    care("coordinator", trees[1])
    keep_plan()
    return tasks


def watered():
    return {entry.tree.name for entry in LogEntry.objects.filter(kind="watering")}


def test_without_anything_in_care_everyone_is_shown(
    grower, make_tree, make_task, keep_plan
):
    make_task(make_tree("Anna"))
    keep_plan()
    page = text(grower.get(ROUND))
    assert "Water Anna" in page
    assert "Whose work" not in page  # one block, nobody's: nothing to choose


def test_a_day_without_work_offers_no_choice_of_blocks(grower, patio, keep_plan, site):
    block_named(site=site, name="Row")
    keep_plan()
    assert "Whose work" not in text(grower.get(ROUND))


def test_everyone_stands_alone_only_to_lead_back_from_one_block(
    grower, make_tree, make_task, keep_plan, patio, site
):
    block_named(site=site, name="Row")
    make_task(make_tree("Cleo", block=patio))
    keep_plan()
    assert "Everyone:" not in text(grower.get(ROUND))
    page = text(grower.get(f"{ROUND}?who=block:{patio.pk}"))
    assert "Everyone: 1</a>" in page


def test_who_looks_after_something_begins_with_it_and_with_what_is_nobodys(
    grower, three
):
    page = text(grower.get(ROUND))
    assert "Water Anna" in page
    assert "Water Berta" not in page
    assert "Water Cleo" in page
    assert "nobody looks after it" in page
    assert "Shown: yours and nobody&#x27;s, 2 of 3 tasks today." in page
    assert (
        '<a class="button button--quiet button--small" href="?who=mine" aria-current="true">Mine: 2</a>'
        in page
    )
    assert "Everyone: 3</a>" in page


def test_who_looks_after_nothing_begins_with_everyone(cast, client_of, three):
    page = text(client_of(cast.owner).get(ROUND))
    assert "Water Berta" in page
    assert 'href="?who=everyone" aria-current="true"' in page


def test_a_choice_is_remembered_for_the_session_and_for_its_place(
    grower, cast, client_of, three
):
    assert "Water Berta" in text(grower.get(f"{ROUND}?who=everyone"))
    assert "Water Berta" in text(grower.get(ROUND))
    assert "Water Berta" not in text(grower.get(f"{ROUND}?who=mine"))
    assert "Water Berta" not in text(grower.get(ROUND))
    assert grower.session["round_who"] == {"test-site": "mine"}
    assert "Water Berta" not in text(client_of(cast.grower).get(ROUND))


def test_one_block_shows_that_block(grower, three, patio):
    page = text(grower.get(f"{ROUND}?who=block:{patio.pk}"))
    assert "Water Cleo" in page
    assert "Water Anna" not in page
    assert "Shown: Patio, 1 of 3 tasks today." in page


@pytest.mark.parametrize("who", ["block:0", "block:x", "theirs", "", "'\";--"])
def test_an_unknown_choice_falls_back_to_the_usual_one(grower, three, who):
    page = text(grower.get(ROUND, {"who": who}))
    assert 'href="?who=mine" aria-current="true"' in page


def test_a_remembered_block_that_is_gone_falls_back(grower, three, patio):
    grower.get(f"{ROUND}?who=block:{patio.pk}")
    patio.delete()
    assert 'href="?who=mine" aria-current="true"' in text(grower.get(ROUND))


def test_the_row_is_done_for_what_is_shown_and_the_number_said(
    grower, three, site, make_tree, make_task, care, keep_plan
):
    tree = make_tree("Dora")
    make_task(tree)
    care("grower", tree)
    keep_plan()
    page = text(grower.get(ROUND))
    assert "All 2 watered" in page
    block = site.blocks.get(name="Long row")
    values = {"kind": "watering", "action": "water", "who": "mine"}
    answer = grower.post(f"{ROUND}blocks/{block.pk}/done/", values, follow=True)
    assert watered() == {"Anna", "Dora"}
    assert "Long row: 2 trees watered." in text(answer)


def test_the_choice_of_the_form_counts_though_another_tab_chose_otherwise(
    grower, three, site
):
    grower.get(f"{ROUND}?who=everyone")
    block = site.blocks.get(name="Long row")
    values = {"kind": "watering", "action": "water", "who": "mine"}
    grower.post(f"{ROUND}blocks/{block.pk}/done/", values)
    assert watered() == {"Anna"}
    assert grower.session["round_who"] == {"test-site": "everyone"}


def test_a_row_that_cannot_wait_is_done_apart_from_the_calm_one(
    grower, site, make_tree, make_task, keep_plan
):
    calm, *urgent = [make_tree(f"Apple {number}") for number in range(3)]
    make_task(calm)
    for tree in urgent:
        make_task(tree, is_urgent=True)
    keep_plan()
    assert "All 2 watered" in text(grower.get(ROUND))
    block = site.blocks.get()
    values = {"kind": "watering", "action": "water", "urgent": "1"}
    grower.post(f"{ROUND}blocks/{block.pk}/done/", values)
    assert watered() == {"Apple 1", "Apple 2"}


def test_watered_all_means_what_is_shown_and_says_how_many(grower, three, patio):
    page = text(grower.get(ROUND))
    assert "All that is shown: 2 trees" in page
    assert "Long row: 1 tree" in page
    values = {"litres": "9", "on": str(TODAY), "block": "", "who": "mine"}
    answer = grower.post(f"{ROUND}water-all/", values, follow=True)
    assert watered() == {"Anna", "Cleo"}
    assert "Written down: 2 trees" in text(answer)


def test_watered_all_in_one_block_offers_that_block_alone(grower, three, patio):
    who = f"block:{patio.pk}"
    page = text(grower.get(ROUND, {"who": who}))
    assert '<option value="">Patio: 1 tree</option>' in page.replace(" selected", "")
    values = {"litres": "9", "on": str(TODAY), "block": "", "who": who}
    grower.post(f"{ROUND}water-all/", values)
    assert watered() == {"Cleo"}


def test_a_refused_amount_keeps_the_choice(grower, three):
    values = {"litres": "lots", "on": str(TODAY), "who": "everyone"}
    answer = grower.post(f"{ROUND}water-all/", values)
    assert answer.status_code == 422
    assert "All trees: 3 trees" in text(answer)


def test_nobody_watered_is_said_of_what_is_shown(
    grower, make_tree, make_task, keep_plan, care
):
    facts = [["unknown_water_days", 9], ["spare_l", 0.0]]
    reason = {"code": "water_established", "facts": facts, "would_change": []}
    mine, theirs = make_tree("Anna"), make_tree("Berta")
    for tree in (mine, theirs):
        make_task(tree, reason=reason)
    care("grower", mine)
    care("coordinator", theirs)
    keep_plan()
    assert "1 tree would need water" in text(grower.get(ROUND))
    answer = grower.post(f"{ROUND}water-none/", {"who": "mine"}, follow=True)
    assert watered() == {"Anna"}
    assert "Written down: no water for Anna." in text(answer)


# Standing in.


@pytest.fixture
def stands_in(care, make_tree, keep_plan):
    """The coordinator looks after Anna and Berta; the grower stands in for Anna."""
    anna, berta = make_tree("Anna"), make_tree("Berta")
    for tree in (anna, berta):
        care("coordinator", tree)
    care("grower", anna, is_backup=True)
    return anna, berta


@pytest.mark.parametrize(("days_late", "shows"), [(0, False), (1, False), (2, True)])
def test_a_backup_sees_all_work_once_anything_is_late_by_more_than_a_day(
    grower, stands_in, make_task, keep_plan, days_late, shows
):
    anna, berta = stands_in
    make_task(anna)
    # Its window ends two days after it is due.
    make_task(berta, days=-2 - days_late)
    keep_plan()
    page = text(grower.get(ROUND))
    assert ("Water Anna" in page) is shows
    assert ("you stand in for coordinator" in page) is shows
    assert "Water Berta" not in page  # nobody asked the grower to stand in there


def test_work_put_off_is_not_late(grower, stands_in, make_task, keep_plan):
    anna, berta = stands_in
    make_task(anna)
    make_task(berta, days=-9, not_before=TODAY + timedelta(days=1))
    keep_plan()
    assert "Water Anna" not in text(grower.get(ROUND))


def test_a_backup_sees_urgent_work_at_once(grower, stands_in, make_task, keep_plan):
    anna, berta = stands_in
    for tree in (anna, berta):
        make_task(tree, kind="cold", action="cover", is_urgent=True)
    make_task(anna)
    keep_plan()
    page = text(grower.get(ROUND))
    assert "Cover Anna" in page
    assert "Cover Berta" not in page
    assert "Water Anna" not in page


def test_a_backup_waits_while_another_carer_keeps_up(
    grower, cast, care, stands_in, make_task, keep_plan
):
    anna, berta = stands_in
    care("owner", anna)
    make_task(anna)
    make_task(berta, days=-9)
    keep_plan()
    assert "Water Anna" not in text(grower.get(ROUND))


def test_what_a_backup_did_stays_under_done_with_its_undo(
    grower, stands_in, make_task, keep_plan
):
    task = make_task(stands_in[0], days=-9)
    keep_plan()
    grower.post(f"{ROUND}tasks/{task.public_id}/done/")
    keep_plan()
    page = text(grower.get(ROUND))
    assert "Done today" in page
    assert "Watered Anna" in page


def test_what_others_did_for_theirs_is_not_under_mine(grower, cast, client_of, three):
    client_of(cast.owner).post(f"{ROUND}tasks/{three[1].public_id}/done/")
    three[1].site.refresh_from_db()
    assert "Watered Berta" not in text(grower.get(ROUND))
    assert "Watered Berta" in text(grower.get(f"{ROUND}?who=everyone"))


def test_nothing_of_mine_today_names_the_next_of_mine(
    grower, stands_in, make_tree, make_task, keep_plan, care
):
    make_task(stands_in[0])
    make_task(stands_in[1], days=20)
    own = make_tree("Cleo")
    care("grower", own)
    make_task(own, days=30)
    keep_plan()
    page = text(grower.get(ROUND))
    assert "Nothing needs you today." in page
    assert "water Cleo" in page
    assert "0 of 1 task today" in page


def test_no_task_is_shown_to_nobody(
    cast, client_of, site, make_tree, make_task, keep_plan, care, patio
):
    """Whatever is arranged, each task is under somebody's usual choice."""
    care("grower", site.blocks.get(name="Long row"))
    care("coordinator", patio, is_backup=True)
    for number, block in enumerate((None, patio, site.blocks.get(name="Long row"))):
        make_task(make_tree(f"Tree {number}", block=block))
    keep_plan()
    Membership.objects.filter(person=cast.owner).update(role="owner")
    pages = [
        text(client_of(getattr(cast, role)).get(f"{ROUND}?who=mine"))
        for role in ("owner", "coordinator", "grower")
    ]
    for task in Task.objects.all():
        assert any(f"Water {task.tree.name}" in page for page in pages)
        is_cared_for = task.tree.name == "Tree 2"
        shown = [f"Water {task.tree.name}" in page for page in pages]
        assert shown == ([False, False, True] if is_cared_for else [True] * 3)


def test_mine_asks_the_database_as_often_for_a_garden_as_for_a_family(
    grower, three, make_tree, make_task, keep_plan, care, django_assert_num_queries
):
    grower.get(ROUND)
    with django_assert_num_queries(17):
        grower.get(ROUND)
    for number in range(30):
        tree = make_tree(f"Tree {number}")
        make_task(tree)
        care("grower" if number % 2 else "coordinator", tree)
    keep_plan()
    with django_assert_num_queries(17):
        page = grower.get(ROUND)
    assert "Mine: 17</a>" in text(page)
