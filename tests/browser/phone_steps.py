"""What the tests of a phone without a network do over and over."""

import re
from collections.abc import Callable

from playwright.sync_api import Browser, Error, Page, expect

from orchard.actions.people import make_signin_link
from orchard.models import Person
from tests.browser.line import Line
from tests.turns import turn

ROUND = "/s/alder-row/"
HAS_WORKER = "navigator.serviceWorker.controller !== null"
NUMBER_KEPT = "outbox.all().then((things) => things.length)"
#: What `static/js/worker.js` keeps of the pages, by their paths.
KEPT_PATHS = """
(async () => {
  const paths = [];
  for (const name of ["visited", "always"]) {
    for (const one of await (await caches.open(name)).keys()) {
      paths.push(new URL(one.url).pathname);
    }
  }
  return paths.sort();
})()
"""
#: Times of a page's own script: without them a slow machine fails a test.
PATIENT_MS = 20_000

BETWEEN_LOOKS_MS = 50

OpenPhone = Callable[[Person], Page]


def open_phone(browser: Browser, line: Line, person: Person) -> Page:
    """Return a phone signed in at the round, its worker in place."""
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True
    )
    context.set_default_timeout(PATIENT_MS)
    page = context.new_page()
    sign_in(page, person)
    wait_until(page, HAS_WORKER)
    page.goto(line.url + ROUND)
    wait_until_kept(page, ROUND)
    return page


def sign_in(page: Page, person: Person) -> None:
    """Sign in by a one-time link, as whoever lost a password would."""
    with turn:
        link = make_signin_link(person=person)
    page.goto(link)
    page.get_by_role("button").first.click()
    page.wait_for_url("**/s/**")


def wait_until(page: Page, said: str) -> None:
    """Wait until an expression of the page is true; its policy lets no other way in."""
    for _ in range(PATIENT_MS // BETWEEN_LOOKS_MS):
        try:
            if page.evaluate(said):
                return
        except Error as error:  # the page was just going elsewhere
            if "context was destroyed" not in str(error):
                raise
        page.wait_for_timeout(BETWEEN_LOOKS_MS)
    raise AssertionError(said)


def wait_until_kept(page: Page, path: str) -> None:
    """Wait until the worker has a copy of a page."""
    wait_until(page, f"{KEPT_PATHS.strip()}.then(all => all.includes('{path}'))")


def visit(page: Page, line: Line, path: str) -> None:
    """Open a page with a network and wait until the phone keeps it."""
    page.goto(line.url + path)
    wait_until_kept(page, path)


def expect_kept(page: Page, number: int) -> None:
    """Expect so many things to wait on the phone."""
    wait_until(page, f"{NUMBER_KEPT}.then(found => found === {number})")


def tick_first(page: Page) -> None:
    """Press the first Done."""
    page.get_by_role("button", name=re.compile("Done$")).first.click()


def expect_line(page: Page, words: str) -> None:
    """Expect a line of the phone's own at the top of the page."""
    expect(page.locator("#phone")).to_contain_text(words)
