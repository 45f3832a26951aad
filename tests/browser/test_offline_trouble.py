"""A phone whose own store fails, and work that the server will not take."""

import re

import pytest
from playwright.sync_api import Page, expect

from care.models import LogEntry, Sending
from orchard.models import Membership, Role
from tests.browser.line import Line
from tests.browser.phone_steps import expect_kept, visit
from tests.browser.test_offline import path_of_fig
from tests.turns import turn

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

FULL = """() => {
  IDBObjectStore.prototype.add = () => {
    throw new DOMException("full", "QuotaExceededError");
  };
}"""
BROKEN = """() => {
  IDBDatabase.prototype.transaction = () => {
    throw new DOMException("broken", "InvalidStateError");
  };
}"""
DONE = re.compile("Done$")
UNDER_TREE = "/s/alder-row/round/tree/"
TEN_MINUTES = "sessionStorage.setItem('timer-start', String(Date.now() - 600_000))"
MINUTES_KEPT = """
outbox.all().then((things) => things.map(({ fields }) => new Map(fields).get("minutes")))
"""


def write_note(page: Page) -> None:
    note = page.locator("form[data-keep=tree_note]")
    note.locator("[name=note]").evaluate("box => { box.value = 'Two suckers' }")
    note.evaluate("form => form.requestSubmit()")


def notes() -> int:
    with turn:
        return LogEntry.objects.filter(note="Two suckers").count()


def test_a_full_phone_sends_as_any_page_does_while_there_is_a_network(
    phone: Page, line: Line
):
    visit(phone, line, path_of_fig())
    phone.evaluate(FULL)
    write_note(phone)
    expect(phone.get_by_text("The note is in the log.").first).to_be_visible()
    assert notes() == 1
    with turn:
        assert not Sending.objects.exists()  # it was not the outbox that sent it
    phone.evaluate(FULL)
    phone.context.set_offline(True)
    write_note(phone)
    expect(phone.locator("#trouble")).to_contain_text("This phone has no room left")
    assert notes() == 1


def test_a_phone_whose_store_is_broken_signs_out(phone: Page, line: Line):
    visit(phone, line, path_of_fig())
    phone.evaluate(BROKEN)
    phone.get_by_text("More", exact=True).click()
    phone.get_by_role("button", name="Sign out").click()
    phone.wait_for_url("**/accounts/login/")
    assert phone.evaluate("localStorage.length") == 0


def test_what_a_role_may_not_do_any_more_stays_on_the_phone(phone: Page, line: Line):
    """The page of a refusal would take along what was typed."""
    visit(phone, line, path_of_fig())
    with turn:
        mine = Membership.objects.filter(person__username="marta")
        mine.update(role=Role.VIEWER)
    write_note(phone)
    expect(phone.locator(".kept")).to_contain_text("Ask an owner")
    expect_kept(phone, 1)
    assert notes() == 0


def test_the_clocks_minutes_are_of_one_tree_alone(phone: Page, line: Line):
    visit(phone, line, UNDER_TREE)
    phone.evaluate(TEN_MINUTES)
    line.cut()
    title = phone.locator(".one__step:visible h2")
    done = phone.locator(".one__step:visible").get_by_role("button", name=DONE)
    for number in (1, 2):
        before = title.inner_text()
        done.click()
        expect_kept(phone, number)
        expect(title).not_to_have_text(before)
    assert phone.evaluate(MINUTES_KEPT) == ["10", ""]
