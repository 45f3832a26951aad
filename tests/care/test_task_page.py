"""The page of one task: why, and everything a person can answer to it."""

from datetime import timedelta

import pytest

from care.models import LogEntry, Task
from orchard.catalogue.species import species_catalogue
from tests.conftest import TODAY

FACTS = [
    ["litres_per_day", 6.0],
    ["spare_l", 5.0],
    ["readily_available_l", 40.0],
    ["rain_last_week_l", 0.0],
    ["rain_known", True],
    ["et0_mm", 4.2],
]
WATER = {
    "code": "water_established",
    "facts": FACTS,
    "would_change": ["rain", "soil_feel"],
}


def text(response):
    return " ".join(response.content.decode().split())


def address(task, verb=""):
    return f"/s/test-site/tasks/{task.public_id}/{verb}"


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def watering(make_tree, make_task, keep_plan):
    task = make_task(
        make_tree("Anna"),
        reason=WATER,
        sources=["fao56"],
        cautions=["not_when_soil_wet", "heat_work_early"],
    )
    keep_plan()
    return task


def test_the_page_says_why_in_words_and_numbers(grower, watering):
    page = text(grower.get(address(watering)))
    assert "Of the 40 L it may use before it suffers, 5 L is left" in page
    assert "it drinks about 6 L a day" in page
    assert "No rain reached its roots in the last week." in page
    for label in ("left before it suffers", "it may use in all", "it drinks a day"):
        assert label in page


def test_the_page_says_what_would_change_it_and_what_to_mind(grower, watering):
    page = text(grower.get(address(watering)))
    assert "Rain moves it later" in page
    assert "Stop if you feel dizzy." in page
    assert page.index("Mind") < page.index("Why")


def test_the_page_names_the_source_in_full_and_leads_to_the_working(grower, watering):
    page = text(grower.get(address(watering)))
    assert "FAO Irrigation and Drainage Paper 56" in page
    assert address(watering, "working/") in page


def test_a_figure_from_memory_is_called_that(grower, make_tree, make_task, keep_plan):
    task = make_task(make_tree(), sources=["fao56", ""])
    keep_plan()
    assert "From memory, not checked" in text(grower.get(address(task)))


def test_a_figure_of_the_species_table_is_traced_to_its_address(
    grower, make_tree, make_task, keep_plan
):
    key = species_catalogue()["apple"].figure("bloom_damage_temp_c").source
    task = make_task(make_tree(), sources=[key])
    keep_plan()
    page = text(grower.get(address(task)))
    assert (
        "https://extension.psu.edu/"
        "orchard-frost-critical-temperatures-for-various-fruits" in page
    )


def test_a_feeding_names_the_product(grower, make_tree, make_task, keep_plan):
    task = make_task(
        make_tree(),
        kind="feeding",
        key="2025/1",
        action="feed",
        amount=480.0,
        unit="g",
        reason={"code": "feed_split", "facts": [["product", "10-10-10"]]},
    )
    keep_plan()
    page = text(grower.get(address(task)))
    assert "480 g" in page
    assert "10-10-10 · by Friday" in page


def test_a_drainage_test_asks_for_its_hours(grower, make_tree, make_task, keep_plan):
    task = make_task(
        make_tree(),
        kind="planting",
        key="2025/drainage",
        action="drainage",
        amount=None,
        unit="",
        reason={"code": "plant_drainage", "facts": [["hole_m", 0.3]]},
    )
    keep_plan()
    page = text(grower.get(address(task)))
    assert "The test hole was empty after, in hours" in page
    grower.post(address(task, "done/"), {"amount": "6,5"})
    task.tree.refresh_from_db()
    assert task.tree.drainage_hours == 6.5


@pytest.mark.parametrize(
    ("walk_days", "said"),
    [
        (None, "That is its best day."),
        (1, "; it comes along with other work."),
        (5, "; it waits for a walk with other work."),
    ],
)
def test_the_page_says_how_the_walk_lies_to_the_best_day(
    grower, make_tree, make_task, make_round, keep_plan, walk_days, said
):
    task = make_task(make_tree(), days=3)
    if walk_days is not None:
        make_round(task.due + timedelta(days=walk_days - 3), [task])
    keep_plan()
    assert said in text(grower.get(f"/s/test-site/tasks/{task.public_id}/"))


def test_an_unknown_reason_still_has_a_page(grower, make_tree, make_task, keep_plan):
    task = make_task(
        make_tree(), reason={"code": "newly_invented"}, cautions=["odd_one"]
    )
    keep_plan()
    page = text(grower.get(address(task)))
    assert "the numbers stand below" in page
    assert "Odd one." in page


def test_the_amount_is_what_was_really_given(grower, watering):
    day = TODAY - timedelta(days=3)
    grower.post(
        address(watering, "done/"),
        {"amount": "15,5", "on": day.isoformat(), "note": "Tap ran slow"},
    )
    entry = LogEntry.objects.get()
    assert (entry.amount, entry.on, entry.note) == (15.5, day, "Tap ran slow")


def test_gallons_are_stored_as_litres(cast, client_of, watering):
    cast.grower.units = "us"
    cast.grower.save()
    client_of(cast.grower).post(address(watering, "done/"), {"amount": "4"})
    # 4 US gal: 3.785411784 L each (NIST SP 811, appendix B.8).
    assert LogEntry.objects.get().amount == pytest.approx(15.1416, abs=1e-3)


def test_a_share_of_the_crown_is_typed_in_percent(
    grower, make_tree, make_task, keep_plan
):
    task = make_task(
        make_tree(),
        kind="pruning",
        key="2025/1",
        action="prune",
        amount=0.25,
        unit="share",
    )
    keep_plan()
    assert "up to 25%" in text(grower.get(address(task)))
    grower.post(address(task, "done/"), {"amount": "20 %"})
    assert LogEntry.objects.get().amount == pytest.approx(0.2)


@pytest.mark.parametrize(
    ("posted", "said"),
    [
        ({"amount": "some"}, "some"),
        ({"amount": "-3"}, "cannot be right"),
        ({"on": (TODAY + timedelta(days=1)).isoformat()}, "That day has not come yet."),
        ({"note": "x" * 2001}, "2000"),
    ],
)
def test_a_wrong_tick_is_refused_at_its_field(grower, watering, posted, said):
    answer = grower.post(address(watering, "done/"), posted)
    assert answer.status_code == 422
    assert said in text(answer)
    assert not LogEntry.objects.exists()


def test_skipping_keeps_the_reason_and_the_log_says_it_in_words(grower, watering):
    grower.post(address(watering, "skip/"), {"reason": "still_wet"})
    watering.refresh_from_db()
    assert watering.status == Task.Status.SKIPPED
    assert LogEntry.objects.get().reason == "still_wet"
    assert "The soil is still wet" in text(grower.get("/s/test-site/log/"))


def test_a_skip_needs_a_reason_of_its_kind(grower, watering):
    answer = grower.post(address(watering, "skip/"), {"reason": "grows_enough"})
    assert answer.status_code == 422
    assert grower.post(address(watering, "skip/"), {}).status_code == 422
    assert not LogEntry.objects.exists()


def test_putting_off_holds_the_task_until_that_day(grower, watering):
    until = TODAY + timedelta(days=3)
    grower.post(address(watering, "later/"), {"until": until.isoformat()})
    watering.refresh_from_db()
    assert watering.not_before == until


@pytest.mark.parametrize("days", [0, -1, 17])
def test_putting_off_has_an_end(grower, watering, days):
    # The window ends in two days; fourteen more are allowed.
    until = TODAY + timedelta(days=days)
    answer = grower.post(address(watering, "later/"), {"until": until.isoformat()})
    assert answer.status_code == 422
    watering.refresh_from_db()
    assert watering.not_before is None


@pytest.mark.parametrize(
    ("code", "kind", "fact"),
    [
        ("feed_ask_past", "feeding", "fed_before"),
        ("prune_ask_past", "pruning", "pruned_before"),
    ],
)
def test_an_unknown_past_is_asked_and_the_answer_kept(
    cast, client_of, make_tree, make_task, keep_plan, code, kind, fact
):
    tree = make_tree()
    task = make_task(
        tree,
        kind=kind,
        key="2025/1",
        action="check",
        amount=None,
        unit="",
        reason={"code": code, "facts": [["entered_on", "2025-07-02"]]},
    )
    keep_plan()
    assert (
        client_of(cast.grower)
        .post(address(task, "answer/"), {"answer": "yes"})
        .status_code
        == 403
    )
    client_of(cast.coordinator).post(address(task, "answer/"), {"answer": "yes"})
    tree.refresh_from_db()
    assert getattr(tree, fact) == "yes"


def test_a_done_task_shows_who_did_it_and_can_be_undone(grower, watering, keep_plan):
    grower.post(address(watering, "done/"))
    keep_plan()
    page = text(grower.get(address(watering)))
    assert "grower, today" in page
    entry = LogEntry.objects.get()
    back = address(watering)
    answer = grower.post(f"/s/test-site/log/{entry.public_id}/undo/", {"back": back})
    assert answer.headers["Location"] == back
    entry.refresh_from_db()
    assert entry.voided_at is not None


def test_a_form_never_leads_to_a_foreign_page(grower, watering):
    answer = grower.post(
        address(watering, "done/"), {"back": "https://elsewhere.example/"}
    )
    assert answer.headers["Location"] == "/s/test-site/"


def test_a_viewer_sees_why_and_whom_to_ask(cast, client_of, watering):
    page = text(client_of(cast.viewer).get(address(watering)))
    assert "ask an owner or coordinator" in page
    assert address(watering, "done/") not in page


def test_a_viewer_who_ticks_all_the_same_is_told_whom_to_ask(cast, client_of, watering):
    answer = client_of(cast.viewer).post(address(watering, "done/"))
    assert answer.status_code == 403
    assert "Ask an owner or coordinator" in text(answer)
    assert not LogEntry.objects.exists()


def test_a_task_of_another_orchard_does_not_exist(cast, client_of, watering):
    client = client_of(cast.stranger)
    foreign = f"/s/elsewhere/tasks/{watering.public_id}/"
    assert client.get(address(watering)).status_code == 404
    assert client.get(foreign).status_code == 404
    assert client.post(f"{foreign}done/").status_code == 404


def test_a_list_of_what_to_do_is_shown_line_by_line(
    grower, make_tree, make_task, keep_plan
):
    facts = [["planted_on", "2025-07-10"], ["checks", "fruit_off settle_with_water"]]
    task = make_task(
        make_tree(),
        kind="planting",
        key="2025/plant",
        action="plant",
        amount=None,
        unit="",
        reason={"code": "plant_pot", "facts": facts},
    )
    keep_plan()
    page = text(grower.get(address(task)))
    assert "Take off all blossom and fruit this year." in page
    assert "Settle the soil with water, not with boots." in page


def test_a_planting_waits_for_the_call_that_comes_first(
    grower, make_tree, make_task, keep_plan
):
    task = make_task(
        make_tree(),
        kind="planting",
        key="2025/plant",
        action="plant",
        is_firm=False,
        amount=None,
        unit="",
        reason={"code": "plant_day", "facts": [["blocked_by", "plant_locate"]]},
    )
    keep_plan()
    page = text(grower.get(address(task)))
    assert "Waits for another task that comes first." in page
    assert "cannot be ticked before" in page


def test_a_potting_asks_for_the_pot_it_is_in_now(
    grower, make_tree, make_task, keep_plan
):
    tree = make_tree(in_container=True, container_litres=40.0)
    task = make_task(tree, kind="potting", key="2025/repot", action="pot_up")
    keep_plan()
    assert "The pot it is in now, in L" in text(grower.get(address(task)))
    answer = grower.post(address(task, "done/"), {"amount": "0"})
    assert answer.status_code == 422


@pytest.fixture
def asked_for_result(make_tree, make_task, keep_plan):
    task = make_task(
        make_tree("Blueberry", species_key="blueberry_highbush"),
        kind="soil",
        action="test_soil",
        key="next/test",
        reason={"code": "soil_ask_result", "facts": [], "would_change": []},
    )
    keep_plan()
    return task


def test_what_a_soil_test_said_is_two_taps_away(
    cast, client_of, grower, asked_for_result
):
    coordinator = client_of(cast.coordinator)
    page = text(coordinator.get(address(asked_for_result)))
    settings = "/s/test-site/settings/?open=soil#soil"
    assert f'href="{settings}"' in page
    opened = text(coordinator.get(settings))
    assert '<details class="fold fold--ruled" id="soil" open>' in opened
    assert opened.count("fold--ruled") > 1
    assert opened.count(" open>") == 1
    assert settings not in text(grower.get(address(asked_for_result)))


def test_ticking_that_the_result_came_leads_to_where_it_is_written(
    cast, client_of, asked_for_result
):
    answer = client_of(cast.coordinator).post(address(asked_for_result, "done/"))
    assert answer.status_code == 302
    assert answer.headers["Location"] == "/s/test-site/settings/?open=soil#soil"


def test_who_may_not_change_the_settings_goes_back_to_the_round(
    grower, asked_for_result
):
    answer = grower.post(address(asked_for_result, "done/"))
    assert answer.headers["Location"] == "/s/test-site/"
