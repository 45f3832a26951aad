"""Work without a network: pages are there, what is done waits, all arrives once."""

import re

import pytest
from django.contrib.sessions.models import Session
from playwright.sync_api import Page, expect

from care.models import LogEntry, Sending
from orchard.models import Membership, Person, Role, Tree
from tests.browser.line import Line
from tests.browser.phone_steps import (
    ROUND,
    expect_kept,
    expect_line,
    sign_in,
    tick_first,
    visit,
)
from tests.turns import turn

#: What the page marks as kept, once it has read what is.
NUMBER_SHOWN = "outbox.all().then(() => document.querySelectorAll('.kept').length)"

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def another_grower(of: Person, at: str) -> Person:
    with turn:
        other = Person.objects.create_user("tom", first_name="Tom")
        orchard = of.memberships.get(orchard__sites__slug=at).orchard
        Membership.objects.create(person=other, orchard=orchard, role=Role.GROWER)
    return other


def sent() -> int:
    with turn:
        return Sending.objects.count()


def path_of_fig() -> str:
    with turn:
        fig = Tree.objects.get(name="Fig in the corner")
    return f"{ROUND}trees/{fig.public_id}/"


def marta_done() -> int:
    with turn:
        return LogEntry.objects.filter(person__username="marta", what="done").count()


def test_the_round_is_there_and_a_tick_waits_and_arrives(phone: Page, line: Line):
    before = marta_done()
    line.cut()
    phone.context.set_offline(True)
    phone.reload()
    expect_line(phone, "No network. This page is a copy of")
    tick_first(phone)
    kept = phone.locator(".kept")
    expect(kept).to_contain_text(
        "Kept on this phone; goes out when there is a network."
    )
    expect(phone.get_by_role("link", name="1 waiting to send")).to_be_visible()
    # The tick shows again where the page is opened again, and on every other page.
    phone.reload()
    expect(kept).to_have_count(1)
    phone.get_by_role("link", name="1 waiting to send").click()
    expect(phone.get_by_role("heading", level=1)).to_have_text("Waiting to send")
    expect(phone.locator("#things > li")).to_have_count(1)
    assert marta_done() == before
    line.mend()
    phone.context.set_offline(False)
    expect(
        phone.get_by_text("Nothing waits on this phone: all is sent.")
    ).to_be_visible()
    with turn:
        sending = Sending.objects.filter(person__username="marta").get()
    assert sending.what == "task_done"
    assert marta_done() == before + 1


def test_what_was_never_sent_is_taken_back_on_the_phone(phone: Page, line: Line):
    line.cut()
    phone.context.set_offline(True)
    phone.reload()
    tick_first(phone)
    phone.locator(".kept").get_by_role("button", name="Undo").click()
    expect(phone.get_by_text("Taken back: it was never sent.")).to_be_visible()
    expect_kept(phone, 0)


def test_a_tick_that_gets_no_answer_is_kept(phone: Page, line: Line):
    """The phone believes in its network; the line is dead all the same."""
    line.cut()
    tick_first(phone)
    expect(phone.locator(".kept")).to_be_visible()
    expect(phone.locator("#trouble")).to_be_hidden()
    expect_kept(phone, 1)


def test_pages_never_opened_give_way_to_the_round(phone: Page, line: Line):
    line.cut()
    phone.goto(line.url + "/you/")
    expect(phone.get_by_role("heading", level=1)).to_have_text("No network")
    phone.get_by_role("link", name="To the round").click()
    phone.wait_for_url(f"**{ROUND}")
    expect(phone.get_by_role("heading", level=1)).to_have_text("Alder Row")


def test_copies_are_gone_after_seven_days(phone: Page, line: Line):
    line.cut()
    phone.evaluate(
        """async (path) => {
          const cache = await caches.open("visited");
          const copy = await cache.match(path);
          const headers = new Headers(copy.headers);
          const old = Date.now() - 7.01 * 24 * 3600 * 1000;
          headers.set("Orchard-Kept-At", new Date(old).toISOString());
          await cache.put(path, new Response(await copy.text(), { headers }));
          await caches.delete("always");
        }""",
        ROUND,
    )
    with pytest.raises(Exception, match="ERR_"):
        phone.goto(line.url + ROUND)


def test_two_phones_tick_one_task(phones, line: Line, demo: Person):
    other = another_grower(demo, "alder-row")
    both = [phones(demo), phones(other)]
    line.cut()
    for phone in both:
        phone.context.set_offline(True)
        phone.reload()
        tick_first(phone)
        expect_kept(phone, 1)
    line.mend()
    for phone in both:
        phone.context.set_offline(False)
        expect_kept(phone, 0)
    with turn:
        first, second = Sending.objects.order_by("received_at")
        assert first.entry == second.entry
        assert (first.answer["state"], second.answer["state"]) == ("kept", "joined")
        assert (first.person, second.person) == (demo, other)
        assert first.entry is not None
        task = first.entry.task
        assert LogEntry.objects.filter(task=task, voided_at=None).count() == 1


def test_who_was_signed_out_meanwhile_signs_in_and_it_goes_out(
    phone: Page, line: Line, demo: Person
):
    line.cut()
    phone.context.set_offline(True)
    phone.reload()
    tick_first(phone)
    expect_kept(phone, 1)
    with turn:
        Session.objects.all().delete()
    line.mend()
    phone.context.set_offline(False)
    expect_line(phone, "You are signed out: sign in and it goes out.")
    expect_kept(phone, 1)
    sign_in(phone, demo)
    expect_kept(phone, 0)
    assert sent() == 1


@pytest.mark.parametrize("at", ["alder-row", "quay-steps"])
def test_what_somebody_else_kept_is_never_sent_under_another_name(
    phone: Page, line: Line, demo: Person, at
):
    """Nor is it given up where they are no member of that orchard themselves."""
    line.cut()
    phone.context.set_offline(True)
    phone.reload()
    tick_first(phone)
    expect_kept(phone, 1)
    with turn:
        Session.objects.all().delete()
    line.mend()
    phone.context.set_offline(False)
    other = another_grower(demo, at)
    sign_in(phone, other)
    # Nor is their own work held up by it, where it is the same.
    assert phone.evaluate(NUMBER_SHOWN) == 0
    phone.goto(line.url + "/waiting/")
    phone.get_by_role("button", name="Try now").click()
    thing = phone.locator("#things > li")
    expect(thing).to_contain_text("Somebody else kept this on this phone.")
    assert thing.get_by_role("heading").count() == 0  # nor is it told what it is
    assert sent() == 0
    sign_in(phone, demo)
    expect_kept(phone, 0)
    with turn:
        assert Sending.objects.get().person == demo


def test_what_may_be_in_the_log_already_is_asked_on_the_page_of_what_waits(
    phone: Page, line: Line
):
    visit(phone, line, path_of_fig())
    harvest = phone.locator("form[data-keep=tree_harvest]")
    harvest.locator("[name=mass]").evaluate("box => { box.value = '2' }")
    harvest.evaluate("form => form.requestSubmit()")
    expect_line(
        phone, "The harvest is in the log."
    )  # arrived at once: the page is anew
    line.cut()
    phone.reload()
    harvest.locator("[name=mass]").evaluate("box => { box.value = '2' }")
    harvest.evaluate("form => form.requestSubmit()")
    expect_kept(phone, 1)
    line.mend()
    phone.goto(line.url + "/waiting/")
    phone.get_by_role("button", name="A second one").click()
    expect_kept(phone, 0)
    with turn:
        found = LogEntry.objects.filter(what="harvested", voided_at=None)
        assert found.filter(person__username="marta").count() == 2


def test_what_is_refused_is_corrected_by_hand(phone: Page, line: Line):
    visit(phone, line, path_of_fig())
    line.cut()
    phone.reload()
    harvest = phone.locator("form[data-keep=tree_harvest]")
    harvest.locator("[name=mass]").evaluate("box => { box.value = 'two' }")
    harvest.evaluate("form => form.requestSubmit()")
    expect_kept(phone, 1)
    line.mend()
    phone.goto(line.url + "/waiting/")
    thing = phone.locator("#things > li")
    expect(thing.get_by_role("button", name="Send it again")).to_be_visible()
    expect_line(phone, "1 needs you")
    thing.locator("[name=mass]").fill("2")
    thing.get_by_role("button", name="Send it again").click()
    expect_kept(phone, 0)
    assert sent() == 1


def test_thrown_away_is_gone_and_was_asked_first(phone: Page, line: Line):
    line.cut()
    phone.context.set_offline(True)
    phone.reload()
    tick_first(phone)
    expect_kept(phone, 1)
    phone.goto(line.url + "/waiting/")
    phone.get_by_role("button", name="Throw away").click()
    expect(phone.get_by_text("Throw it away? It is nowhere else.")).to_be_visible()
    expect_kept(phone, 1)
    phone.get_by_role("button", name="Yes, throw it away").click()
    expect_kept(phone, 0)


def test_with_a_network_what_is_refused_comes_back_on_its_own_page(
    phone: Page, line: Line
):
    visit(phone, line, path_of_fig())
    harvest = phone.locator("form[data-keep=tree_harvest]")
    harvest.locator("[name=mass]").evaluate("box => { box.value = 'two' }")
    harvest.evaluate("form => form.requestSubmit()")
    expect(phone.locator(".field__error").first).to_be_visible()
    expect_kept(phone, 0)
    assert re.search("harvest", phone.url)
    assert sent() == 0
