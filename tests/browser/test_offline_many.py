"""A long day without a network: two hundred things, photos among them, on a bad line."""

import re
from collections import Counter

import pytest
from playwright.sync_api import Page

from care.models import LogEntry, Photo, Sending
from orchard.models import Tree
from tests.browser.line import Line
from tests.browser.phone_steps import (
    NUMBER_KEPT,
    ROUND,
    expect_kept,
    tick_first,
    visit,
    wait_until,
)
from tests.turns import turn

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

FIG = "Fig in the corner"
TICKS, NOTES, PHOTOS, MORE_NOTES = 5, 150, 15, 30
ALL = TICKS + NOTES + PHOTOS + MORE_NOTES

WRITE_NOTES = """
async ([first, number]) => {
  const form = document.querySelector("form[data-keep=tree_note]");
  for (let at = first; at < first + number; at += 1) {
    const before = (await outbox.all()).length;
    form.elements.note.value = `note ${at}`;
    form.requestSubmit();
    while ((await outbox.all()).length === before || form.dataset.isTaken) {
      await new Promise((done) => setTimeout(done, 1));
    }
  }
}
"""
TAKE_PHOTOS = """
async (number) => {
  const form = document.querySelector("form[data-keep=tree_photo]");
  const box = form.querySelector("input[multiple]");
  const chosen = new DataTransfer();
  for (let at = 0; at < number; at += 1) {
    const canvas = document.createElement("canvas");
    canvas.width = canvas.height = 64;
    const paper = canvas.getContext("2d");
    paper.fillStyle = `hsl(${at * 20} 60% 40%)`;
    paper.fillRect(0, 0, 64, 64);
    const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg"));
    chosen.items.add(new File([blob], `photo-${at}.jpg`, { type: "image/jpeg" }));
  }
  box.files = chosen.files;
  box.dispatchEvent(new Event("change", { bubbles: true }));
  form.requestSubmit();
}
"""


def send_what_waits(page: Page, line: Line, *, dies_after: int) -> None:
    """Send on a line that dies while an answer is on its way; then mend it."""
    line.swallow_answer(dies_after)
    page.evaluate("void outbox.replay()")
    wait_until(page, "outbox.replay().then((stopped) => stopped === 'later')")
    line.mend()


def check_all_is_there_once(done_in_order: list[str], logged_before: set[int]) -> None:
    sent = Sending.objects.order_by("received_at")
    assert [str(one.pk) for one in sent] == done_in_order
    kinds = Counter(one.what for one in sent)
    assert kinds == {
        "task_done": TICKS,
        "tree_note": NOTES + MORE_NOTES,
        "tree_photo": PHOTOS,
    }
    notes = LogEntry.objects.filter(tree__name=FIG, note__regex=r"^note \d+$")
    numbers = [
        int(re.sub(r"\D", "", note)) for note in notes.values_list("note", flat=True)
    ]
    assert sorted(numbers) == list(range(NOTES + MORE_NOTES))
    assert (
        Photo.objects.filter(tree__name=FIG, person__username="marta").count() == PHOTOS
    )
    # Each tick and each note is a line of the log; photos are lines of their own kind.
    logged = LogEntry.objects.exclude(pk__in=logged_before)
    assert logged.filter(photos=None).count() == TICKS + NOTES + MORE_NOTES


def test_two_hundred_things_arrive_once_and_in_their_order(phone: Page, line: Line):
    fig = Tree.objects.get(name=FIG)
    path = f"{ROUND}trees/{fig.public_id}/"
    logged_before = set(LogEntry.objects.values_list("pk", flat=True))
    visit(phone, line, path)
    phone.goto(line.url + ROUND)
    line.cut()
    phone.context.set_offline(True)
    phone.reload()
    for number in range(TICKS):
        tick_first(phone)
        expect_kept(phone, number + 1)
    phone.goto(line.url + path)
    phone.evaluate(WRITE_NOTES, [0, NOTES])
    phone.evaluate(TAKE_PHOTOS, PHOTOS)
    expect_kept(phone, TICKS + NOTES + PHOTOS)
    phone.evaluate(WRITE_NOTES, [NOTES, MORE_NOTES])
    expect_kept(phone, ALL)
    done_in_order = phone.evaluate("outbox.all().then(all => all.map(one => one.id))")
    with turn:
        assert Sending.objects.count() == 0

    line.mend()
    line.swallow_answer(40)
    phone.context.set_offline(False)
    # The server did the fortieth; the phone, which heard nothing, will send it again.
    wait_until(phone, f"{NUMBER_KEPT}.then((left) => left <= {ALL - 39})")
    wait_until(phone, "outbox.replay().then((stopped) => stopped === 'later')")
    left = phone.evaluate(NUMBER_KEPT)
    with turn:
        assert (left, Sending.objects.count()) == (ALL - 39, 40)
    line.mend()
    send_what_waits(phone, line, dies_after=90)
    # A phone that is switched off in the middle of it goes on where it stood.
    phone.evaluate("void outbox.replay()")
    phone.wait_for_timeout(300)
    phone.goto(line.url + "/waiting/")
    expect_kept(phone, 0)

    with turn:
        check_all_is_there_once(done_in_order, logged_before)
