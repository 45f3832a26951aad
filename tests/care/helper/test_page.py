"""A helper's round: what it shows, ticking, undoing, notes; and nothing else."""

import re
from datetime import timedelta

from django.utils import timezone

from care.actions.holds import log_spray
from care.actions.tasks import complete_task, skip_task
from care.models import LogEntry
from orchard.models import Block, EmergencyContact, WayIn
from tests.conftest import TODAY

DAY = timedelta(days=1)


def text(response):
    return " ".join(response.content.decode().split())


def tick(browser, task, **values):
    return browser.post(f"/h/tick/{task.public_id}/", {"note": "", **values})


def entry():
    return LogEntry.objects.get()


def test_the_page_shows_the_round_in_walking_order_cautions_first(sam):
    page = text(sam.get("/h/"))
    places = [page.index(word) for word in ("Mind first", "Water Anna", "Feed Berta")]
    assert places == sorted(places)
    assert "18 L" in page
    assert "480 g" in page
    assert "10-10-10" in page
    assert "Stop if you feel dizzy." in page
    assert "How and why" in page
    assert "emergency number" in page


def test_the_page_says_how_to_get_in_whom_to_call_and_what_is_not_to_be_picked(
    sam, site, cast, anna, keep_plan
):
    WayIn.objects.create(
        site=site,
        gate="Green gate",
        key_note="Under the third pot",
        tap="Left of the shed",
        harvest_rule="Half to who picks.",
    )
    EmergencyContact.objects.create(site=site, name="Garden phone", phone="555-0142")
    facts = {"product": "Soap", "person": cast.owner, "now": timezone.now()}
    log_spray(site=site, trees=[anna.tree], waiting_days=7, on=TODAY, **facts)
    keep_plan()
    page = text(sam.get("/h/"))
    order = ("Do not pick before 9 July: Soap", "Green gate", "555-0142", "Half to who")
    places = [page.index(words) for words in order]
    assert places == sorted(places)
    assert "Left of the shed" in page
    assert "Under the third pot" not in page
    assert "call the emergency number" in page


def test_nothing_of_other_rounds_is_shown_or_ticked(
    sam, site, make_tree, make_task, make_round, keep_plan
):
    wall = Block.objects.create(site=site, name="South wall", position=3)
    same_day = make_task(make_tree("Fig", block=wall))
    later = make_task(make_tree("Clara"), days=5)
    asked = make_task(make_tree("Dora"), reason={"code": "feed_ask_past"})
    make_round(TODAY, [same_day])
    make_round(TODAY + 5 * DAY, [later])
    keep_plan()
    page = text(sam.get("/h/"))
    for task in (same_day, later, asked):
        assert task.tree.name not in page
        assert tick(sam, task).status_code == 404
        note = sam.post(f"/h/note/{task.public_id}/", {"note": "x"})
        assert note.status_code == 404
    assert not LogEntry.objects.exists()


def test_what_was_left_over_is_still_there_the_day_after(
    sam, site, link, anna, make_round, make_task, make_tree
):
    new = make_task(make_tree("Emil"), days=4)
    anna_next = make_round(TODAY + DAY, [anna, new])
    site.own_today = TODAY + DAY
    site.planned_revision, site.planned_on = site.revision, TODAY + DAY
    site.save()
    page = text(sam.get("/h/"))
    assert "Water Anna" in page
    assert "Emil" not in page  # its window had not begun on the round's day
    assert anna_next.tasks.count() == 2


def test_a_tick_is_in_the_log_under_the_helpers_name(sam, anna, cast, client_of):
    answer = tick(sam, anna, amount="15")
    assert answer.headers["Location"] == f"/h/#task-{anna.public_id}"
    one = entry()
    assert (one.person, one.helper.name, one.amount) == (None, "Sam", 15.0)
    assert (one.task, one.on) == (anna, TODAY)
    page = text(sam.get("/h/"))
    assert re.search(r"Done by Sam at \d+:\d\d: 15 L\.", page)
    log = text(client_of(cast.viewer).get("/s/test-site/log/"))
    assert "Sam (helper), today" in log


def test_a_wrong_amount_is_asked_for_again(sam, anna):
    answer = tick(sam, anna, amount="lots")
    assert answer.status_code == 422
    assert "Not ticked yet" in text(answer)
    assert not LogEntry.objects.exists()


def test_a_note_is_in_the_log_under_the_helpers_name(sam, anna):
    sam.post(f"/h/note/{anna.public_id}/", {"note": "A branch is split."})
    one = entry()
    assert (one.what, one.helper.name, one.tree) == ("note", "Sam", anna.tree)
    refused = sam.post(f"/h/note/{anna.public_id}/", {"note": ""})
    assert (refused.status_code, LogEntry.objects.count()) == (422, 1)


def test_undo_opens_the_task_again_and_says_who_did(sam, anna, cast, client_of):
    tick(sam, anna)
    sam.post(f"/h/undo/{entry().public_id}/")
    anna.refresh_from_db()
    assert (anna.status, entry().voided_by_helper.name) == ("open", "Sam")
    log = text(client_of(cast.viewer).get("/s/test-site/log/"))
    assert "taken back by Sam (helper)" in log
    again = text(sam.post(f"/h/undo/{entry().public_id}/", follow=True))
    assert "Already taken back, so nothing was changed." in again


def test_nobody_undoes_the_tick_of_another(sam, come, anna, berta, cast):
    tick(come("Kim"), anna)
    of_kim = entry()
    of_member = complete_task(
        task=berta, person=cast.grower, on=TODAY, now=timezone.now()
    ).entry
    for one in (of_kim, of_member):
        assert sam.post(f"/h/undo/{one.public_id}/").status_code == 404
        one.refresh_from_db()
        assert one.voided_at is None


def test_who_ticks_second_is_named_and_can_take_only_their_name_off(
    sam, anna, cast, client_of
):
    cast.grower.first_name, cast.grower.last_name = "Ana Maria", "Pereira"
    cast.grower.save()
    complete_task(task=anna, person=cast.grower, on=TODAY, now=timezone.now())
    page = text(tick_and_follow(sam, anna))
    assert re.search(r"Ana already did this at \d+:\d\d; you are named too\.", page)
    assert "Done by Ana and Sam" in page
    assert "Maria" not in page
    assert "Pereira" not in page
    log = text(client_of(cast.viewer).get("/s/test-site/log/"))
    assert "Ana Maria and Sam (helper), today" in log
    page = text(sam.post(f"/h/undo/{entry().public_id}/", follow=True))
    assert "Your name is off it; the work stays written down." in page
    assert "Done by Ana at" in page
    assert entry().voided_at is None


def tick_and_follow(browser, task):
    return browser.post(f"/h/tick/{task.public_id}/", {"note": ""}, follow=True)


def test_a_helper_does_not_take_back_what_others_did_too(sam, anna, cast):
    tick(sam, anna)
    complete_task(task=anna, person=cast.grower, on=TODAY, now=timezone.now())
    page = text(sam.post(f"/h/undo/{entry().public_id}/", follow=True))
    assert "Others are named there too, so it stays." in page
    assert entry().voided_at is None


def test_a_member_without_a_first_name_is_a_member_to_helpers(sam, anna, cast):
    cast.grower.first_name, cast.grower.username = "", "ana.pereira@example.org"
    cast.grower.save()
    complete_task(task=anna, person=cast.grower, on=TODAY, now=timezone.now())
    page = text(sam.get("/h/"))
    assert "Done by a member" in page
    assert "pereira" not in page
    assert "A member already did this" in text(tick_and_follow(sam, anna))


def test_what_a_member_skipped_is_said_and_a_helpers_doing_beats_it(sam, anna, cast):
    skip_task(
        task=anna, person=cast.grower, on=TODAY, now=timezone.now(), reason="no_time"
    )
    assert "Left out this time" in text(sam.get("/h/"))
    tick(sam, anna)
    anna.refresh_from_db()
    assert anna.status == "done"


def test_a_feeding_that_may_be_counted_already_is_asked_about(
    sam, berta, cast, make_task, keep_plan
):
    earlier = make_task(
        berta.tree,
        kind="feeding",
        key="2025/1",
        action="feed",
        amount=400.0,
        unit="g",
    )
    cast.grower.username = "ana.pereira"
    cast.grower.save()
    fed = complete_task(
        task=earlier, person=cast.grower, on=TODAY - 3 * DAY, now=timezone.now()
    ).entry
    keep_plan()
    question = tick(sam, berta, amount="480")
    assert question.status_code == 409
    page = text(question)
    assert "The same job, or a second one?" in page
    assert "Fed Berta, 400 g" in page
    assert "pereira" not in page
    assert 'name="amount" value="480"' in page
    tick(sam, berta, amount="480", same_job="same", seen=str(fed.public_id))
    assert [helper.name for helper in fed.also_by_helpers.all()] == ["Sam"]
    berta.refresh_from_db()
    assert (berta.status, LogEntry.objects.count()) == ("open", 1)
    tick(sam, berta, amount="480", same_job="second", seen=str(fed.public_id))
    assert LogEntry.objects.count() == 2


def test_units_are_the_helpers_own_choice(sam):
    assert "18 L" in text(sam.get("/h/"))
    sam.post("/h/units/", {"units": "us"})
    assert "4.8 gal" in text(sam.get("/h/"))
    sam.post("/h/units/", {"units": "stones"})
    assert "4.8 gal" in text(sam.get("/h/"))


def test_one_link_serves_two_phones(come, anna, berta, keep_plan):
    tick(come("Sam"), anna)
    keep_plan()
    tick(come("Kim"), berta)
    names = set(LogEntry.objects.values_list("helper__name", flat=True))
    assert names == {"Sam", "Kim"}


def test_a_round_of_another_orchard_is_out_of_reach(
    sam, cast, site, anna, make_task, make_round
):
    theirs = cast.stranger.memberships.get().orchard.sites.get()
    tree = theirs.trees.create(name="Theirs", species_key="apple", entered_on=TODAY)
    task = make_task(tree)
    type(task).objects.filter(pk=task.pk).update(site=theirs)
    one = make_round(
        TODAY,
        [task],
    )
    type(one).objects.filter(pk=one.pk).update(site=theirs)
    assert tick(sam, task).status_code == 404
    done = complete_task(
        task=type(task).objects.get(pk=task.pk),
        person=cast.stranger,
        on=TODAY,
        now=timezone.now(),
    ).entry
    assert sam.post(f"/h/undo/{done.public_id}/").status_code == 404
    done.refresh_from_db()
    assert done.voided_at is None


def test_the_page_asks_the_database_as_often_for_30_trees_as_for_3(
    sam, link, make_tree, make_task, keep_plan, django_assert_num_queries
):
    one = link[0].round

    def fill(numbers):
        for number in numbers:
            task = make_task(make_tree(f"Tree {number}"))
            type(task).objects.filter(pk=task.pk).update(round=one)
            if number % 3 == 0:
                complete_task(task=task, person=None, on=TODAY, now=timezone.now())
        keep_plan()

    fill(range(3))
    sam.get("/h/")
    with django_assert_num_queries(12):
        sam.get("/h/")
    fill(range(3, 30))
    with django_assert_num_queries(12):
        page = sam.get("/h/")
    assert text(page).count('id="task-') == 32


def test_a_helper_walks_by_place_and_their_first_tick_keeps_the_order(
    sam, site, anna, berta
):
    for task, x_m in ((anna, 9.0), (berta, 2.0)):
        type(task.tree).objects.filter(pk=task.tree_id).update(x_m=x_m, y_m=0.0)
    site.corners.create(name="gate", x_m=0.0, y_m=0.0)
    page = text(sam.get("/h/"))
    assert page.index("Feed Berta") < page.index("Water Anna")
    tick(sam, berta)
    anna.refresh_from_db()
    assert anna.round.order == [berta.tree_id, anna.tree_id]
