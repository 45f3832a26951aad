"""Water nobody logged: asked once after a quiet week, answered in two taps, undone."""

import re
from datetime import timedelta

import pytest
from lxml import html  # type: ignore[import-untyped]  # lxml ships no types

from care.actions.watered import water_all
from care.models import LogEntry, Task
from care.planning.gather import gather
from care.planning.propose import outlooks
from care.views.unlogged_water import likely_day, usual_litres
from orchard.actions.places import block_named
from orchard.actions.trees import add_tree
from orchard.actions.weather import set_normals
from tests.care.actions.test_holds import NOW
from tests.conftest import TODAY

ROUND = "/s/test-site/"
SEEN = f"{ROUND}water-seen/"
DAY = timedelta(days=1)
DRY = [(month, 8.0, 28.0, 0.0) for month in range(1, 13)]


def text(response):
    return " ".join(response.content.decode().split())


def unheard(days, **facts):
    pairs = {"unknown_water_days": days, "spare_l": 0.0, **facts}
    return {
        "code": "water_established",
        "facts": [list(pair) for pair in pairs.items()],
        "would_change": [],
    }


SHORT = {"missing_l": 26.0, "threshold_l": 20.0, "litres_per_day": 2.0}  # three days


@pytest.fixture
def grower(cast, client_of):
    return client_of(cast.grower)


@pytest.fixture
def asked(site, make_tree, make_task, keep_plan):
    """Three trees of two rows that nobody spoke of, and one that somebody did."""
    gate = block_named(site=site, name="Gate")
    trees = [make_tree("Anna"), make_tree("Berta"), make_tree("Carla", block=gate)]
    for tree, amount in zip(trees, (18.0, 20.0, 17.0), strict=True):
        make_task(tree, amount=amount, reason=unheard(9, **SHORT))
    make_task(make_tree("Heard of"))
    keep_plan()
    return trees


def watered():
    rows = LogEntry.objects.filter(voided_at=None).order_by("tree__name")
    return [(e.tree.name, e.amount, e.on, e.word) for e in rows]


def test_one_question_for_all_with_the_likely_day_and_the_plans_amount(grower, asked):
    page = html.fromstring(grower.get(ROUND).content.decode())
    words = " ".join(page.text_content().split())
    assert words.count("Did anybody water since 23 June?") == 1
    assert page.xpath("//input[@id='unlogged_litres']/@value") == ["18"]
    assert page.xpath("//input[@id='unlogged_on']/@value") == [str(TODAY - 3 * DAY)]
    blocks = page.xpath("//fieldset[.//input[@name='trees']]/legend/text()")
    assert blocks == ["Long row", "Gate"]
    assert "Write it down once" not in words  # a grower writes no irrigation


def test_a_day_that_only_a_local_rule_forbids_is_asked_about_all_the_same(
    grower, make_tree, make_task, keep_plan
):
    moved = {"rule_weekdays": "Sat", "rule_moved_from": str(TODAY)}
    make_task(make_tree("Anna"), days=3, reason=unheard(9, **moved))
    later = {"rule_weekdays": "Sat", "rule_moved_from": str(TODAY + DAY)}
    make_task(make_tree("Berta"), days=3, reason=unheard(9, **later))
    keep_plan()
    page = text(grower.get(ROUND))
    assert "1 tree would need water if nobody did." in page
    grower.post(SEEN, {"answer": "all", "on": str(TODAY), "litres": "5"})
    assert [row[0] for row in watered()] == ["Anna"]


def test_yes_all_is_one_more_tap_backdated_and_taken_back_in_one(grower, asked):
    day = TODAY - 3 * DAY
    page = text(
        grower.post(
            SEEN, {"answer": "all", "on": str(day), "litres": "18"}, follow=True
        )
    )
    assert watered() == [(name, 18.0, day, "") for name in ("Anna", "Berta", "Carla")]
    assert "Written down: 3 trees, Sunday, 18 L each." in page
    (undo,) = set(re.findall(r'"(/s/test-site/log/[-0-9a-f]+/undo/)"', page))
    assert "Taken back for 3 trees." in text(
        grower.post(undo, {"all": "1"}, follow=True)
    )
    assert watered() == []


def test_an_empty_amount_is_what_the_plan_asks_for_each(grower, asked):
    grower.post(SEEN, {"answer": "all", "on": str(TODAY), "litres": ""})
    assert [row[1] for row in watered()] == [18.0, 20.0, 17.0]
    assert Task.objects.filter(status="done").count() == 3  # due today, so ticked
    entry = LogEntry.objects.first()
    grower.post(f"{ROUND}log/{entry.public_id}/undo/", {"all": "1"})
    assert Task.objects.filter(status="done").count() == 0


def test_some_are_ticked_in_the_fold(grower, asked):
    some = [str(tree.public_id) for tree in asked[:2]]
    posted = {"answer": "some", "on": str(TODAY - DAY), "litres": "9", "trees": some}
    grower.post(SEEN, posted)
    assert [row[:2] for row in watered()] == [("Anna", 9.0), ("Berta", 9.0)]


@pytest.mark.parametrize(("answer", "names"), [("filled", 3), ("some_filled", 1)])
def test_rain_or_someone_else_fills_without_an_amount(grower, asked, answer, names):
    chosen = [str(asked[0].public_id)]
    posted = {"answer": answer, "on": str(TODAY - DAY), "litres": "", "trees": chosen}
    page = text(grower.post(SEEN, posted, follow=True))
    assert [row[1:] for row in watered()] == [(None, TODAY - DAY, "filled")] * names
    assert not Task.objects.filter(status="done").exists()
    log = text(grower.get(f"{ROUND}log/"))
    assert "Rain or somebody filled the soil of Anna" in log
    assert "Written down: " in page


def test_no_is_one_tap_and_can_be_taken_back(grower, asked):
    page = text(grower.post(f"{ROUND}water-none/", follow=True))
    assert "Written down: no water for 3 trees." in page
    assert len(watered()) == 3
    entry = LogEntry.objects.first()
    grower.post(f"{ROUND}log/{entry.public_id}/undo/", {"all": "1"})
    assert watered() == []


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"answer": "some", "trees": []}, "Tick the trees that got water."),
        ({"answer": "some", "litres": "lots"}, "lots"),
        ({"litres": "90000"}, "cannot be right"),
        ({"on": str(TODAY + DAY)}, "That day has not come yet."),
        ({"on": str(TODAY - 40 * DAY)}, "more than 30 days ago"),
        ({"on": ""}, "Which day was it?"),
        ({"answer": "perhaps"}, "Nothing was logged yet."),
        ({"answer": "some", "trees": ["nobody"]}, "Select a valid choice"),
    ],
)
def test_a_mistake_is_named_and_nothing_is_lost(grower, asked, changed, said):
    some = [str(asked[1].public_id)]
    posted = {"answer": "all", "on": str(TODAY), "litres": "7", "trees": some}
    answer = grower.post(SEEN, {**posted, **changed})
    assert answer.status_code == 422
    assert said in text(answer)
    page = html.fromstring(answer.content.decode())
    if "trees" not in changed:
        assert page.xpath("//input[@name='trees'][@checked]/@value") == some
    assert watered() == []


def test_an_answer_that_comes_too_late_says_so(grower, make_tree, keep_plan):
    make_tree()
    keep_plan()
    page = text(grower.post(SEEN, {"answer": "all", "on": str(TODAY)}, follow=True))
    assert "Nobody asks about that any more. Nothing was written down." in page


def test_a_day_long_ago_says_that_there_was_none_since(grower, site, make_tree):
    set_normals(site=site, months=DRY)
    for name in ("Anna", "Berta"):
        make_tree(name, planted_on=TODAY - 4000 * DAY, entered_on=TODAY - 60 * DAY)
    grower.get(ROUND)
    day = TODAY - 12 * DAY
    page = text(grower.post(SEEN, {"answer": "filled", "on": str(day)}, follow=True))
    assert "Did anybody water" not in page
    assert "Written down: 2 trees, 20 June." in page
    assert "No more water for Anna since then" in text(grower.get(f"{ROUND}log/"))
    entry = LogEntry.objects.get(tree__name="Berta", word="filled")
    undo = f"{ROUND}log/{entry.public_id}/undo/"
    page = text(grower.post(undo, {"all": "1"}, follow=True))
    assert "Taken back for 2 trees." in page
    assert watered() == []


def test_what_was_not_planted_that_day_got_nothing(grower, asked):
    asked[0].planted_on = TODAY
    asked[0].save()
    grower.post(SEEN, {"answer": "all", "on": str(TODAY - DAY), "litres": "5"})
    assert [row[0] for row in watered()] == ["Berta", "Carla"]


def test_an_address_that_names_nothing_of_this_place_says_nothing(grower, asked):
    for named in ("nonsense", "00000000-0000-4000-8000-000000000000"):
        assert "Written down" not in text(grower.get(f"{ROUND}?said={named}"))


def test_an_address_names_no_water_of_another_orchard(grower, cast, asked):
    elsewhere = cast.stranger.orchards.get().sites.get()
    theirs = add_tree(
        site=elsewhere,
        values={"name": "Theirs", "species_key": "apple"},
        today=TODAY,
    )
    (entry,) = water_all(
        site=elsewhere, trees=[theirs], litres=5, person=None, on=TODAY, now=NOW
    )
    page = text(grower.get(f"{ROUND}?said={entry.public_id}"))
    assert "Written down" not in page
    assert "Theirs" not in page


def test_a_viewer_is_told_but_cannot_answer(cast, client_of, asked):
    page = text(client_of(cast.viewer).get(ROUND))
    assert "Did anybody water since 23 June?" in page
    assert "water-seen" not in page


def test_a_coordinator_is_led_to_what_runs_by_itself(cast, client_of, asked):
    page = text(client_of(cast.coordinator).get(ROUND))
    assert 'href="/s/test-site/irrigation/"' in page


def test_amounts_that_differ_too_much_have_no_one_figure():
    assert usual_litres([18.0, 20.0, 17.0]) == 18.0
    assert usual_litres([2.0, 40.0]) is None
    assert usual_litres([18.0, None]) is None
    assert usual_litres([]) is None


@pytest.mark.parametrize(
    ("facts", "back"), [(SHORT, 3), ({}, 1), ({**SHORT, "missing_l": 90.0}, 8)]
)
def test_the_likely_day_is_when_the_water_ran_short_after_the_last_word(
    make_tree, make_task, facts, back
):
    task = make_task(make_tree(), reason=unheard(9, **facts))
    assert likely_day([task], TODAY) == TODAY - back * DAY


def test_a_filled_soil_is_full_that_day_and_settles_the_silence(
    grower, site, make_tree
):
    set_normals(site=site, months=DRY)
    tree = make_tree("Anna", planted_on=TODAY - 4000 * DAY, entered_on=TODAY - 60 * DAY)
    assert "Did anybody water" in text(grower.get(ROUND))
    before = outlooks(gather(site, TODAY))[tree.pk]
    grower.post(SEEN, {"answer": "filled", "on": str(TODAY - 2 * DAY)})
    after = outlooks(gather(site, TODAY))[tree.pk]
    assert after.missing_l < 0.5 * before.missing_l
    assert after.unknown_water_days == 2
    assert "Did anybody water" not in text(grower.get(ROUND))
