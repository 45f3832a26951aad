"""The worker itself: new versions, what sign-out takes, the switch, messages."""

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from orchard.models import Person, Tree
from tests.browser.line import Line
from tests.browser.phone_steps import (
    KEPT_PATHS,
    ROUND,
    expect_kept,
    expect_line,
    tick_first,
    visit,
    wait_until,
)

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

NO_WORKER = "navigator.serviceWorker.getRegistrations().then((all) => !all.length)"
NO_CACHES = "caches.keys().then((names) => !names.length)"
VERSIONS = (
    "caches.keys().then(all => all.filter(one => one.startsWith('static-')).length)"
)


def renew(page: Page, monkeypatch) -> None:
    """Put another version on the server, and let the page find it."""
    monkeypatch.setattr("orchard.views.phone.version_of", lambda addresses: "another")
    page.reload()
    expect(page.get_by_role("button", name="Use it")).to_be_visible()


def test_a_new_version_waits_until_nothing_is_being_typed(
    phone: Page, line: Line, monkeypatch
):
    fig = Tree.objects.get(name="Fig in the corner")
    visit(phone, line, f"{ROUND}trees/{fig.public_id}/")
    renew(phone, monkeypatch)
    expect_line(phone, "A new version is ready.")
    note = phone.locator("form[data-keep=tree_note] [name=note]")
    note.evaluate("box => { box.value = 'Leaves curl.' }")
    phone.evaluate("window.isSamePage = true")
    phone.get_by_role("button", name="Use it").click()
    expect(phone.locator("#trouble")).to_have_text(
        "Send or clear what you typed first, then press again."
    )
    phone.wait_for_timeout(300)
    assert phone.evaluate("window.isSamePage")
    assert note.input_value() == "Leaves curl."
    note.evaluate("box => { box.value = '' }")
    phone.get_by_role("button", name="Use it").click()
    wait_until(phone, "window.isSamePage === undefined")
    expect(phone.get_by_role("button", name="Use it")).to_have_count(0)
    # The files of the older version stay for the copies that ask for them.
    assert phone.evaluate(VERSIONS) == 2


def test_signing_out_asks_where_something_waits_and_takes_all_from_the_phone(
    phone: Page, line: Line
):
    line.cut()
    tick_first(phone)
    expect_kept(phone, 1)
    phone.get_by_text("More", exact=True).click()
    phone.context.set_offline(True)
    phone.get_by_role("button", name="Sign out").click()
    expect(phone.locator("#trouble")).to_have_text(
        "Signing out needs a network. Nothing was thrown away."
    )
    phone.context.set_offline(False)
    phone.get_by_role("button", name="Sign out").click()
    dialog = phone.get_by_role("dialog", name="Not everything is sent")
    expect(dialog).to_contain_text("1 waiting to send")
    dialog.get_by_role("button", name="Stay signed in").click()
    expect(dialog).to_be_hidden()
    expect_kept(phone, 1)
    phone.get_by_text("More", exact=True).click()
    phone.get_by_role("button", name="Sign out").click()
    expect(dialog).to_be_visible()
    line.mend()
    dialog.get_by_role("button", name="Throw it away and sign out").click()
    phone.wait_for_url("**/accounts/login/")
    expect_kept(phone, 0)
    assert phone.evaluate("localStorage.length") == 0
    paths = phone.evaluate(KEPT_PATHS)
    assert set(paths) <= {"/offline/", "/waiting/"}


def test_another_person_finds_no_copies_of_the_one_before(
    phone: Page, line: Line, demo: Person, phones
):
    assert ROUND in phone.evaluate(KEPT_PATHS)
    phone.evaluate("localStorage.setItem('orchard-person', 'somebody before')")
    phone.goto(line.url + "/you/")
    wait_until(phone, f"{KEPT_PATHS.strip()}.then(all => !all.includes('{ROUND}'))")


def test_switched_off_the_copies_and_the_worker_go(phone: Page, line: Line, settings):
    assert phone.evaluate("caches.keys()") != []
    settings.PHONE_COPY = False
    phone.goto(line.url + ROUND)
    wait_until(phone, NO_WORKER)
    wait_until(phone, NO_CACHES)


def test_the_pocket_copy_stands_in_for_pages_never_opened(phone: Page, line: Line):
    wait_until(
        phone, f"{KEPT_PATHS.strip()}.then(all => all.includes('{ROUND}pocket/'))"
    )
    line.cut()
    phone.goto(f"{line.url}{ROUND}log/")
    expect_line(phone, "No network. This page is a copy of")
    expect(phone.get_by_role("button", name=re.compile("Done$")).first).to_be_visible()
    tick_first(phone)
    expect_kept(phone, 1)
    line.mend()
    phone.evaluate("void outbox.replay()")
    expect_kept(phone, 0)


def test_over_plain_http_the_page_you_says_what_is_missing(phone: Page, line: Line):
    words = phone.locator("[data-needs-https]").first
    phone.goto(line.url + "/you/")
    expect(words).to_be_hidden()
    phone.add_init_script(
        "Object.defineProperty(window, 'isSecureContext', { value: false })"
    )
    phone.reload()
    expect(words).to_be_visible()
    phone.goto(line.url + ROUND)
    tick_first(phone)  # works as ever
    expect(phone.get_by_role("button", name=re.compile("Undo$")).first).to_be_visible()


def test_a_message_pushed_is_shown_and_leads_to_its_page(phone: Page, line: Line):
    phone.context.grant_permissions(["notifications"], origin=line.url)
    session = phone.context.new_cdp_session(phone)
    found: list[dict[str, Any]] = []

    def note(told: dict[str, Any]) -> None:
        found.append(told)

    session.on("ServiceWorker.workerRegistrationUpdated", note)
    session.send("ServiceWorker.enable")
    while not (found and found[-1]["registrations"]):
        phone.wait_for_timeout(50)
    (registration,) = found[-1]["registrations"]
    session.send(
        "ServiceWorker.deliverPushMessage",
        {
            "origin": line.url,
            "registrationId": registration["registrationId"],
            "data": '{"title":"Cold tonight","body":"2 trees","path":"/you/","tag":"a"}',
        },
    )
    shown = """
      navigator.serviceWorker.ready.then((one) => one.getNotifications()).then((all) =>
        all.map((one) => [one.title, one.body, one.tag, one.data.path].join("|")).join())
    """
    wait_until(
        phone, f"{shown.strip()}.then((all) => all === 'Cold tonight|2 trees|a|/you/')"
    )
