"""The round: what is due now, ticking it, what comes, what was done."""

import re
from datetime import date, timedelta

import pytest
from django.utils import timezone

from care.models import LogEntry, Task
from orchard.actions.weather import set_normals
from orchard.models import Site
from tests.conftest import TODAY

ROUND = "/s/test-site/"


def text(response):
    return " ".join(response.content.decode().split())


def done_address(task):
    return f"{ROUND}tasks/{task.public_id}/done/"


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


def test_home_leads_to_the_round_of_the_last_site(grower, site, cast, client_of):
    assert grower.get("/").headers["Location"] == ROUND
    assert client_of(cast.stranger).get("/").headers["Location"] == "/s/elsewhere/"


def test_home_leads_a_newcomer_to_the_first_steps(client, django_user_model):
    client.force_login(
        django_user_model.objects.create_user("newcomer"),
        backend="allauth.account.auth_backends.AuthenticationBackend",
    )
    assert client.get("/").headers["Location"] == "/start/"


def test_a_due_task_stands_under_its_block_with_amount_and_latest_day(
    grower, make_tree, make_task, keep_plan
):
    make_task(make_tree("Anna's apple"))
    keep_plan()
    page = text(grower.get(ROUND))
    assert "Long row" in page
    assert "Water Anna&#x27;s apple" in page
    assert "18 L" in page
    assert "by Friday" in page  # 4 July 2025


def test_amounts_are_in_the_readers_units(
    cast, client_of, make_tree, make_task, keep_plan
):
    cast.grower.units = "us"
    cast.grower.save()
    make_task(make_tree())
    keep_plan()
    # 18 L are 4.76 US gal: NIST SP 811 (2008), appendix B.8.
    assert "4.8 gal" in text(client_of(cast.grower).get(ROUND))


def test_a_task_whose_window_passed_says_since_when(
    grower, make_tree, make_task, keep_plan
):
    task = make_task(make_tree(), days=-4)  # latest Monday 30 June
    keep_plan()
    assert task.latest == date(2025, 6, 30)
    assert "late since Monday" in text(grower.get(ROUND))


def test_a_task_of_a_later_round_is_only_coming(
    grower, make_tree, make_task, make_round, keep_plan
):
    task = make_task(make_tree())
    make_round(TODAY + timedelta(days=2), [task])
    keep_plan()
    page = text(grower.get(ROUND))
    assert "Coming" in page
    assert "on Friday" in page
    assert done_address(task) not in page


def test_projections_say_likely_and_cannot_be_ticked(
    grower, make_tree, make_task, keep_plan
):
    task = make_task(
        make_tree(),
        days=6,
        is_firm=False,
        likely_from=date(2025, 7, 6),
        likely_to=date(2025, 7, 12),
    )
    keep_plan()
    page = text(grower.get(ROUND))
    assert "likely 6\N{EN DASH}12 July" in page
    assert done_address(task) not in page


def test_cold_that_cannot_wait_stands_before_the_blocks(
    grower, make_tree, make_task, keep_plan
):
    make_task(make_tree("Apple"))
    pot = make_tree(
        "Lemon", species_key="lemon", in_container=True, container_litres=50
    )
    make_task(
        pot, kind="cold", action="move_in", is_urgent=True, amount=None, unit="", days=1
    )
    keep_plan()
    page = text(grower.get(ROUND))
    assert page.index("Bring Lemon in") < page.index("Water Apple")


def test_a_question_is_answered_on_its_own_page(
    grower, make_tree, make_task, keep_plan
):
    task = make_task(
        make_tree(),
        kind="feeding",
        key="2025/1",
        action="check",
        amount=None,
        unit="",
        reason={"code": "feed_ask_past", "facts": [], "would_change": []},
    )
    keep_plan()
    page = text(grower.get(ROUND))
    assert "Was Apple by the gate fed this season?" in page
    assert done_address(task) not in page


def test_ticking_logs_the_planned_amount_and_goes_back(
    grower, cast, make_tree, make_task, keep_plan
):
    task = make_task(make_tree())
    keep_plan()
    answer = grower.post(done_address(task))
    assert (answer.status_code, answer.headers["Location"]) == (302, ROUND)
    entry = LogEntry.objects.get(task=task)
    assert (entry.amount, entry.unit, entry.person, entry.on) == (
        18.0,
        "L",
        cast.grower,
        TODAY,
    )


def test_a_tick_over_htmx_comes_back_as_a_line_with_undo(
    grower, make_tree, make_task, keep_plan
):
    task = make_task(make_tree("Anna"))
    keep_plan()
    done = text(grower.post(done_address(task), headers={"HX-Request": "true"}))
    entry = LogEntry.objects.get(task=task)
    assert "<html" not in done
    assert f"/log/{entry.public_id}/undo/" in done
    assert "Watered Anna, 18 L" in done
    undone = grower.post(
        f"{ROUND}log/{entry.public_id}/undo/", headers={"HX-Request": "true"}
    )
    assert done_address(task) in text(undone)
    task.refresh_from_db()
    assert task.status == Task.Status.OPEN


def test_two_ticks_of_one_task_leave_one_entry(
    cast, client_of, make_tree, make_task, keep_plan
):
    task = make_task(make_tree())
    keep_plan()
    client_of(cast.grower).post(done_address(task))
    second = client_of(cast.owner).post(
        done_address(task), headers={"HX-Request": "true"}
    )
    assert LogEntry.objects.filter(task=task).count() == 1
    assert re.search(
        r"grower already did this at \d+:\d\d; you are named too\.", text(second)
    )
    assert "grower and owner, today" in text(second)


def test_a_task_the_plan_withdrew_says_so(grower, make_tree, make_task, keep_plan):
    task = make_task(make_tree(), status="withdrawn")
    keep_plan()
    answer = grower.post(done_address(task), headers={"HX-Request": "true"})
    assert "The plan no longer asks for this" in text(answer)
    assert not LogEntry.objects.exists()


def test_the_whole_row_is_ticked_at_once(grower, site, make_tree, make_task, keep_plan):
    trees = [make_tree(f"Apple {number}") for number in range(3)]
    for tree in trees:
        make_task(tree)
    late = make_task(
        trees[0], days=20, kind="feeding", action="feed", key="2025/1", unit="g"
    )
    keep_plan()
    assert "All 3 watered" in text(grower.get(ROUND))
    block = site.blocks.get()
    grower.post(
        f"{ROUND}blocks/{block.pk}/done/", {"kind": "watering", "action": "water"}
    )
    assert LogEntry.objects.filter(kind="watering", amount=18.0).count() == 3
    late.refresh_from_db()
    assert late.status == Task.Status.OPEN


def test_one_task_alone_offers_no_row_button(grower, make_tree, make_task, keep_plan):
    make_task(make_tree())
    keep_plan()
    assert "/blocks/" not in text(grower.get(ROUND))


def test_watered_all_ticks_what_waits_and_logs_the_rest(
    grower, make_tree, make_task, keep_plan
):
    waiting = make_task(make_tree("One"))
    make_tree("Two")
    keep_plan()
    day = TODAY - timedelta(days=1)
    grower.post(f"{ROUND}water-all/", {"litres": "12,5", "on": day.isoformat()})
    entries = LogEntry.objects.order_by("tree__name")
    assert [(e.tree.name, e.amount, e.on) for e in entries] == [
        ("One", 12.5, day),
        ("Two", 12.5, day),
    ]
    waiting.refresh_from_db()
    assert waiting.status == Task.Status.DONE


@pytest.mark.parametrize(
    ("posted", "said"),
    [
        ({"litres": "", "on": "2025-07-02"}, "About how much did each tree get?"),
        ({"litres": "lots", "on": "2025-07-02"}, "lots"),
        ({"litres": "90000", "on": "2025-07-02"}, "cannot be right"),
        ({"litres": "5", "on": "2025-07-03"}, "That day has not come yet."),
        ({"litres": "5", "on": "2025-05-02"}, "more than 30 days ago"),
        ({"litres": "5", "on": "yesterday"}, "year-month-day"),
    ],
)
def test_watered_all_refuses_at_the_field_and_keeps_what_was_typed(
    grower, make_tree, make_task, keep_plan, posted, said
):
    make_task(make_tree())
    keep_plan()
    answer = grower.post(f"{ROUND}water-all/", {**posted, "note": "from the butt"})
    assert answer.status_code == 422
    assert said in text(answer)
    assert "from the butt" in text(answer)
    assert not LogEntry.objects.exists()


def unheard(days):
    facts = [["unknown_water_days", days], ["spare_l", 0.0]]
    return {"code": "water_established", "facts": facts, "would_change": []}


def test_after_a_week_without_a_word_the_page_asks(
    grower, make_tree, make_task, keep_plan
):
    make_task(make_tree(), reason=unheard(9))
    keep_plan()
    page = text(grower.get(ROUND))
    assert "Did anybody water since 23 June?" in page


def test_within_a_week_the_page_does_not_ask(grower, make_tree, make_task, keep_plan):
    make_task(make_tree(), reason=unheard(7))
    keep_plan()
    assert "Did anybody water" not in text(grower.get(ROUND))


def test_saying_nobody_watered_is_a_word(grower, make_tree, make_task, keep_plan):
    asked = make_tree("Asked")
    make_tree("Not asked")
    make_task(asked, reason=unheard(9))
    keep_plan()
    grower.post(f"{ROUND}water-none/")
    entry = LogEntry.objects.get()
    assert (entry.tree, entry.kind, entry.amount) == (asked, "watering", None)


def test_saying_nobody_watered_settles_the_question_and_asks_for_the_water_today(
    grower, site, make_tree
):
    months = [(month, 8.0, 28.0, 0.0) for month in range(1, 13)]
    set_normals(site=site, months=months)
    make_tree("Anna", planted_on=date(2015, 3, 1), entered_on=date(2025, 5, 1))
    assert "Did anybody water" in text(grower.get(ROUND))
    grower.post(f"{ROUND}water-none/")
    page = text(grower.get(ROUND))
    assert "Did anybody water" not in page
    task = Task.objects.get(kind="watering", key="next", status=Task.Status.OPEN)
    assert done_address(task) in page


def test_nothing_due_says_when_the_next_thing_is_and_why(
    grower, make_tree, make_task, keep_plan
):
    facts = [["spare_l", 34.0], ["readily_available_l", 40.0]]
    make_task(
        make_tree("Anna"),
        days=9,
        is_firm=False,
        likely_from=date(2025, 7, 11),
        likely_to=date(2025, 7, 14),
        reason={"code": "water_established", "facts": facts, "would_change": []},
    )
    keep_plan()
    page = text(grower.get(ROUND))
    assert "Nothing needs you today." in page
    assert "water Anna, likely 11 July" in page
    assert "34 L of the 40 L it may use is left." in page


def test_a_site_without_trees_shows_how_to_begin(cast, client_of, site, keep_plan):
    keep_plan()
    page = text(client_of(cast.owner).get(ROUND))
    assert "No trees here yet" in page
    assert "/s/test-site/trees/add/" in page


def test_done_today_names_who_did_it(grower, cast, make_tree, make_task, keep_plan):
    task = make_task(make_tree("Anna"))
    keep_plan()
    grower.post(done_address(task))
    keep_plan()
    page = text(grower.get(ROUND))
    assert "Done today" in page
    assert "Watered Anna, 18 L" in page
    assert "grower, today" in page


def test_a_viewer_sees_the_work_but_nothing_to_press(
    cast, client_of, make_tree, make_task, keep_plan
):
    make_task(make_tree(), reason=unheard(9))
    make_task(make_tree("Two"))
    keep_plan()
    page = text(client_of(cast.viewer).get(ROUND))
    assert "Water Two" in page
    assert page.count("<form") == 2  # signing out, and what asks before it
    assert "water-all" not in page


def test_a_demonstration_lives_on_by_a_day_or_a_week(grower, site, keep_plan):
    keep_plan()
    assert "Next week" in text(grower.get(ROUND))
    grower.post(f"{ROUND}live-on/", {"days": "7"})
    site.refresh_from_db()
    assert site.own_today == TODAY + timedelta(days=7)
    assert grower.post(f"{ROUND}live-on/", {"days": "400"}).status_code == 404


def test_a_site_on_the_clock_cannot_be_pushed(grower, site):
    Site.objects.filter(pk=site.pk).update(own_today=None)
    assert grower.post(f"{ROUND}live-on/", {"days": "1"}).status_code == 404
    assert "Next week" not in text(grower.get(ROUND))


def fill(make_tree, make_task, number):
    for index in range(number):
        tree = make_tree(f"Tree {number}-{index}")
        make_task(tree)
        make_task(tree, kind="feeding", action="feed", key="2025/1", unit="g", days=5)
        entry = LogEntry(
            site=tree.site,
            tree=tree,
            what="done",
            kind="watering",
            action="water",
            on=TODAY,
            recorded_at=timezone.now(),
        )
        entry.save()


def test_the_page_asks_the_database_as_often_for_30_trees_as_for_3(
    grower, make_tree, make_task, keep_plan, django_assert_num_queries
):
    fill(make_tree, make_task, 3)
    keep_plan()
    grower.get(ROUND)
    with django_assert_num_queries(19):
        grower.get(ROUND)
    fill(make_tree, make_task, 27)
    keep_plan()
    with django_assert_num_queries(19):
        page = grower.get(ROUND)
    assert text(page).count("line__what") > 80
