"""Every kind of act a phone may send: the same comes of it as of its page."""

from datetime import UTC, datetime, timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import get_resolver

from care.actions.late_work import log_late_work
from care.models import LogEntry, Photo, Task
from care.views.sending_acts import ACTS
from tests.care.actions.photo_samples import photo_bytes
from tests.care.sending_phone import Phone
from tests.conftest import TODAY

YESTERDAY = TODAY - timedelta(days=1)
NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)


@pytest.fixture
def phone(cast, client_of):
    return Phone(client_of(cast.grower))


@pytest.fixture
def tree(make_tree):
    return make_tree()


def of(tree):
    return str(tree.public_id)


def photo(shade=0):
    return SimpleUploadedFile(f"{shade}.jpg", photo_bytes(shade=shade))


def test_a_tick_carries_all_that_its_form_says(phone, make_tree, make_task, cast):
    pot = make_tree(in_container=True, container_litres=40.0)
    task = make_task(pot)
    status, answer = phone.send(
        "task_done",
        ago_h=24,
        task=of(task),
        amount="12.5",
        minutes="4",
        note="Slowly",
        drained="yes",
        drained_after="11",
    )
    assert (status, answer["state"]) == (200, "kept")
    assert answer["words"] == "Watered Apple by the gate."
    done = LogEntry.objects.get(kind="watering")
    assert (done.amount, done.minutes_spent, done.note) == (12.5, 4, "Slowly")
    assert (done.on, done.person) == (YESTERDAY, cast.grower)
    assert LogEntry.objects.get(kind="drained_after_l").amount == 11


def test_a_day_that_was_typed_goes_before_the_day_it_was_kept(phone, tree, make_task):
    task = make_task(tree)
    typed = (TODAY - timedelta(days=3)).isoformat()
    phone.send("task_done", ago_h=24, task=of(task), on=typed)
    assert LogEntry.objects.get().on.isoformat() == typed


def test_a_day_after_it_was_kept_is_refused(phone, tree, make_task):
    kept = phone.keep(
        "task_done", ago_h=24, task=of(make_task(tree)), on=TODAY.isoformat()
    )
    status, answer = phone.post(kept)
    assert (status, list(answer["fields"])) == (422, ["on"])


def test_two_people_are_named_in_one_entry(
    cast, client_of, phone, tree, make_task, site
):
    task = make_task(tree)
    phone.send("task_done", task=of(task))
    other = Phone(client_of(cast.owner))
    status, answer = other.send("task_done", task=of(task))
    assert (status, answer["state"]) == (200, "joined")
    assert "already did this" in answer["words"]
    entry = LogEntry.objects.get()
    assert (entry.person, list(entry.also_by.all())) == (cast.grower, [cast.owner])


def test_a_feeding_that_may_be_one_in_the_log_is_asked_about(phone, tree, make_task):
    fed = {"kind": "feeding", "action": "feed", "unit": "g", "amount": 200.0}
    first = make_task(tree, key="2025/1", **fed)
    phone.send("task_done", task=of(first))
    second = make_task(tree, key="2025/2", **fed)
    kept = phone.keep("task_done", task=of(second))
    status, answer = phone.post(kept)
    assert (status, answer["state"], answer["id"]) == (409, "asks", kept["id"])
    asked = answer["same_job"]
    assert [one["value"] for one in asked["answers"]] == ["same", "second"]
    assert "Fed Apple by the gate" in asked["lines"][0]
    assert LogEntry.objects.count() == 1
    reply = {asked["answer_field"]: "second", asked["seen_field"]: asked["seen"]}
    assert phone.post({**kept, **reply})[1]["state"] == "kept"
    assert LogEntry.objects.count() == 2


def test_a_skip_and_the_day_to_put_off_to(phone, make_tree, make_task):
    skipped = make_task(make_tree("Plum"))
    status, answer = phone.send(
        "task_skip", task=of(skipped), reason="still_wet", note="Mud"
    )
    assert (status, answer["state"]) == (200, "kept")
    entry = LogEntry.objects.get()
    assert (entry.what, entry.reason, entry.note) == ("skipped", "still_wet", "Mud")
    later = make_task(make_tree("Pear"))
    until = TODAY + timedelta(days=3)
    status, answer = phone.send("task_later", task=of(later), until=until.isoformat())
    assert (status, answer["words"]) == (200, "Put off until Saturday 5 July.")
    later.refresh_from_db()
    assert later.not_before == until


@pytest.mark.parametrize("status", [Task.Status.WITHDRAWN, Task.Status.OPEN])
def test_work_that_is_no_longer_asked_for_is_in_the_log(phone, tree, make_task, status):
    task = make_task(tree, status=status, is_firm=False)
    _, answer = phone.send("task_done", ago_h=24, task=of(task))
    assert answer["state"] == "late"
    assert "in the log all the same" in answer["words"]
    entry = LogEntry.objects.get()
    assert (entry.on, entry.amount, entry.task) == (YESTERDAY, 18, task)
    task.refresh_from_db()
    assert task.status == Task.Status.DONE
    phone.send("entry_undo", entry=answer["entry"])
    task.refresh_from_db()
    assert task.status == Task.Status.OPEN


def test_of_two_phones_that_bring_it_late_at_once_one_entry_names_both(
    cast, tree, make_task
):
    """Both had looked before either wrote; the second finds what the first wrote."""
    task = make_task(tree, status=Task.Status.WITHDRAWN)
    both = [Task.objects.get(pk=task.pk) for _ in range(2)]
    first, second = (
        log_late_work(task=one, person=person, on=YESTERDAY, now=NOW)
        for one, person in zip(both, (cast.grower, cast.owner), strict=True)
    )
    assert first == second == LogEntry.objects.get()
    assert (first.person, list(first.also_by.all())) == (cast.grower, [cast.owner])


@pytest.mark.parametrize("what", ["task_done", "task_skip"])
def test_a_note_on_what_another_had_done_is_kept_at_the_tree(
    phone, cast, client_of, tree, make_task, what
):
    task = of(make_task(tree))
    Phone(client_of(cast.owner)).send("task_done", task=task, note="All well")
    kept = phone.keep(what, task=task, note="Two leaves wilt", reason="other")
    _, answer = phone.post(kept)
    assert "Your note is kept at the tree." in answer["words"]
    assert phone.post(kept)[1]["state"] == "again"
    note = LogEntry.objects.get(what="note")
    assert (note.note, note.person, note.tree) == ("Two leaves wilt", cast.grower, tree)
    # The same words once more are nothing new.
    phone.send(what, task=task, note="All well", reason="other")
    assert LogEntry.objects.filter(what="note").count() == 1


def test_a_skip_of_what_is_no_longer_asked_for_keeps_its_note(phone, tree, make_task):
    task = make_task(tree, status=Task.Status.WITHDRAWN)
    _, answer = phone.send("task_skip", task=of(task), reason="other")
    assert (answer["state"], answer["entry"]) == ("late", None)
    _, answer = phone.send("task_skip", task=of(task), reason="other", note="A wasp")
    assert answer["words"].endswith("Your note is kept at the tree.")
    assert LogEntry.objects.get().note == "A wasp"
    until = (TODAY + timedelta(days=2)).isoformat()
    assert phone.send("task_later", task=of(task), until=until)[1]["state"] == "late"


def test_a_task_that_is_gone_is_known_by_what_it_asked(phone, tree, make_task):
    gone = make_task(tree)
    named = {"task": of(gone), "tree": of(tree), "kind": "watering", "action": "water"}
    gone.delete()
    status, answer = phone.send("task_done", **named)
    assert (status, answer["state"]) == (404, "gone")
    assert "the page of its tree" in answer["words"]
    make_task(tree)
    assert phone.send("task_done", **named)[1]["state"] == "kept"


def test_of_several_portions_the_one_of_that_day_stands_for_a_deleted_task(
    phone, tree, make_task
):
    fed = {"kind": "feeding", "action": "feed", "unit": "g", "amount": 200.0}
    make_task(tree, days=-300, key="1/old", status=Task.Status.WITHDRAWN, **fed)
    make_task(tree, days=-60, key="1/new", **fed)
    meant = make_task(tree, days=3, key="2/new", **fed)
    gone = make_task(tree, key="3/new", **fed)
    named = {"task": of(gone), "tree": of(tree), "kind": "feeding", "action": "feed"}
    gone.delete()
    phone.send("task_done", ago_h=24, **named)
    assert LogEntry.objects.get().task == meant


def test_an_undo_by_the_entry_or_by_what_sent_it(phone, tree, make_task):
    task = make_task(tree)
    tick = phone.keep("task_done", task=of(task))
    _, answer = phone.post(tick)
    _, undone = phone.send("entry_undo", entry=tick["id"])
    assert (undone["state"], undone["words"]) == ("kept", "Taken back.")
    assert undone["entry"] == answer["entry"]
    _, again = phone.send("entry_undo", entry=answer["entry"])
    assert "Already taken back" in again["words"]
    assert phone.send("entry_undo", entry=of(tree))[0] == 404


def test_only_who_may_edit_gives_a_tree_its_life_back(phone, tree, site):
    entry = LogEntry.objects.create(
        site=site, tree=tree, what="lost", kind="lost", on=TODAY, recorded_at=NOW
    )
    status, answer = phone.send("entry_undo", entry=of(entry))
    assert (status, answer["state"]) == (403, "may_not")


def test_a_row_of_the_day_it_was_done(phone, make_tree, make_task, keep_plan, site):
    for name in ("Plum", "Pear"):
        make_task(make_tree(name))
    tomorrow = make_task(make_tree("Fig"), days=1)
    keep_plan()
    block = site.blocks.get()
    row = {"block": str(block.pk), "kind": "watering", "action": "water"}
    _, answer = phone.send("block_done", **row)
    assert answer["words"] == "Long row: 2 trees watered."
    assert LogEntry.objects.count() == 2
    tomorrow.refresh_from_db()
    assert tomorrow.status == Task.Status.OPEN
    _, undone = phone.send("entry_undo", entry=answer["entry"], all="ticked")
    assert undone["words"] == "Taken back: 2 tasks."
    assert phone.send("block_done", **{**row, "block": "9" * 30})[0] == 422
    assert phone.send("block_done", **{**row, "block": "99"})[0] == 404
    assert phone.send("block_done", **{**row, "kind": "x"})[0] == 422


def test_all_of_a_round_was_done(phone, make_tree, make_task, keep_plan):
    for name in ("Plum", "Pear"):
        make_task(make_tree(name))
    keep_plan()
    _, answer = phone.send("all_done", on=YESTERDAY.isoformat())
    assert answer["words"] == "2 tasks are ticked as done on Tuesday 1 July."
    assert set(LogEntry.objects.values_list("on", flat=True)) == {YESTERDAY}
    keep_plan()
    _, nothing = phone.send("all_done")
    assert (nothing["entry"], nothing["state"]) == (None, "kept")
    assert phone.send("all_done", on="2025-07-09")[0] == 422


def test_all_trees_got_water(phone, make_tree, site):
    for name in ("Plum", "Pear"):
        make_tree(name)
    _, answer = phone.send("water_all", ago_h=24, litres="15", note="Hose")
    assert answer["words"] == "Written down: 2 trees watered."
    assert set(LogEntry.objects.values_list("amount", "on", "note")) == {
        (15, YESTERDAY, "Hose")
    }
    _, undone = phone.send("entry_undo", entry=answer["entry"], all="1")
    assert undone["words"] == "Taken back for 2 trees."
    assert phone.send("water_all", litres="0")[0] == 422
    site.trees.update(status="lost", ended_on=TODAY)
    assert phone.send("water_all", litres="9")[1]["entry"] is None


def test_what_a_round_showed_and_the_plan_withdrew_since(
    phone, make_tree, make_task, keep_plan, site
):
    shown = [make_task(make_tree(name)) for name in ("Plum", "Pear", "Fig")]
    unseen = make_task(make_tree("Quince"))
    seen = ",".join(str(task.public_id)[:8] for task in shown)
    Task.objects.filter(pk=shown[0].pk).update(status=Task.Status.WITHDRAWN)
    Task.objects.filter(pk=shown[1].pk).update(is_firm=False)
    keep_plan()
    row = {"block": site.blocks.get().pk, "kind": "watering", "action": "water"}
    _, answer = phone.send("block_done", ago_h=24, seen=seen, **row)
    assert answer["state"] == "late"
    assert answer["words"].startswith("Long row: 3 trees watered. 2 of them the plan")
    assert set(LogEntry.objects.values_list("on", flat=True)) == {YESTERDAY}
    unseen.refresh_from_db()
    assert unseen.status == Task.Status.OPEN
    _, undone = phone.send("entry_undo", entry=answer["entry"], all="ticked")
    assert undone["words"] == "Taken back: 3 tasks."
    Task.objects.filter(pk=shown[0].pk).update(status=Task.Status.WITHDRAWN)
    keep_plan()
    _, answer = phone.send("all_done", on=YESTERDAY.isoformat(), seen=seen)
    assert answer["state"] == "late"
    assert answer["words"].startswith("3 tasks are ticked as done on Tuesday 1 July.")


def test_a_hose_run(phone, make_tree):
    trees = [make_tree(name) for name in ("Plum", "Pear")]
    boxes = {f"litres-{tree.public_id}": "9" for tree in trees}
    named = [of(tree) for tree in trees]
    _, answer = phone.send("hose_run", ago_h=24, trees=named, **boxes)
    assert answer["words"] == "Watered by hose: 2 trees, 18 L together."
    assert set(LogEntry.objects.values_list("amount", "on")) == {(9, YESTERDAY)}
    assert phone.send("hose_run", trees=named)[0] == 422


def test_readings_of_a_tree(phone, tree):
    said = {"tree": of(tree)}
    phone.send("tree_observe", form_what="soil_feel", word="dry", ago_h=24, **said)
    phone.send("tree_observe", form_what="mulch_depth_mm", value="7", **said)
    phone.send("tree_observe", form_what="bloom_stage", word="full_bloom", **said)
    found = LogEntry.objects.filter(what="observed").order_by("pk")
    assert [(one.kind, one.word, one.amount) for one in found] == [
        ("soil_feel", "dry", None),
        ("mulch_depth_mm", "", 7),
        ("bloom_stage", "full_bloom", None),
    ]
    assert found[0].on == YESTERDAY
    wrong = {"form_what": "drained_after_l", "value": "7"}
    assert phone.send("tree_observe", **wrong, **said)[0] == 404
    wrong = {"form_what": "soil_feel", "word": "odd"}
    assert phone.send("tree_observe", **wrong, **said)[0] == 422


def test_water_fruit_and_words_of_a_tree(phone, tree):
    said = {"tree": of(tree), "ago_h": 24}
    assert phone.send("tree_water", amount="12", **said)[1]["state"] == "kept"
    assert phone.send("tree_harvest", mass="3", note="", **said)[1]["state"] == "kept"
    assert phone.send("tree_note", note="Aphids", **said)[1]["state"] == "kept"
    found = LogEntry.objects.order_by("pk").values_list("kind", "amount", "on")
    assert list(found) == [
        ("watering", 12, YESTERDAY),
        ("harvest", 3, YESTERDAY),
        ("note", None, YESTERDAY),
    ]
    for what in ("tree_water", "tree_harvest", "tree_note"):
        assert phone.send(what, **said)[0] == 422
    status, asked = phone.send("tree_harvest", mass="3", **said)
    assert (status, asked["state"]) == (409, "asks")
    reply = {"same_job": "same", "seen": asked["same_job"]["seen"]}
    assert phone.send("tree_harvest", mass="3", **reply, **said)[1]["state"] == "joined"


def test_a_tree_that_ended_keeps_what_was_done_before(phone, tree):
    type(tree).objects.filter(pk=tree.pk).update(status="lost", ended_on=TODAY)
    said = {"tree": of(tree), "ago_h": 24}
    assert phone.send("tree_harvest", mass="3", **said)[1]["state"] == "kept"


def test_a_tree_not_yet_planted_takes_only_notes(phone, make_tree):
    planned = make_tree(planted_on=TODAY + timedelta(days=9))
    said = {"tree": of(planned)}
    status, answer = phone.send("tree_harvest", mass="3", **said)
    assert (status, answer["state"]) == (422, "refused")
    assert "not planted yet" in answer["words"]
    assert phone.send("tree_note", note="Stones here", **said)[0] == 200


def test_photos_of_a_tree_and_with_a_tick(phone, tree, make_task):
    _, answer = phone.send("tree_photo", tree=of(tree), photo=[photo(1), photo(2)])
    assert answer["words"] == "2 photos are kept."
    broken = SimpleUploadedFile("a.jpg", b"not a photo")
    _, answer = phone.send("tree_photo", tree=of(tree), photo=[photo(3), broken])
    assert answer["words"].startswith("The photo is kept. Photo 2 of 2:")
    status, answer = phone.send("tree_photo", tree=of(tree), photo=broken)
    assert (status, list(answer["fields"])) == (422, ["photo"])
    assert phone.send("tree_photo", tree=of(tree))[0] == 422
    task = make_task(tree)
    _, answer = phone.send("task_done", task=of(task), photo=photo(4), ago_h=24)
    assert answer["words"] == "Watered Apple by the gate. The photo is kept."
    assert Photo.objects.filter(entry__task=task, on=YESTERDAY).count() == 1
    assert Photo.objects.count() == 4


def test_the_time_of_a_walk(phone, cast):
    phone.send("walk_minutes", minutes="45", ago_h=24)
    entry = LogEntry.objects.get()
    assert (entry.amount, entry.on, entry.person) == (45, YESTERDAY, cast.grower)
    assert phone.send("walk_minutes", minutes="")[1]["words"] == "No time is noted."
    assert phone.send("walk_minutes", minutes="x")[0] == 422


def test_every_kind_that_may_be_kept_is_named_by_its_page():
    assert set(ACTS) <= {name for name in get_resolver().reverse_dict if name}
