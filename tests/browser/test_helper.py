"""A volunteer's phone: the link, a name, the round; nothing said to anybody else."""

import re
from collections.abc import Iterator
from datetime import timedelta

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.core.cache import cache
from django.utils import timezone
from playwright.sync_api import Browser, Page, Request, expect

from care.actions.helper_links import make_helper_link, rounds_to_link
from care.models import HelperLink, LogEntry
from care.planning.plan_site import ensure_planned
from orchard.models import Membership, Person, Site

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def address(live_server, demo: Person) -> str:
    """The address of a link to the soonest round of the demonstration."""
    cache.clear()
    site = Site.objects.get(slug="alder-row")
    now = timezone.now()
    ensure_planned(site, site.today(now))
    one = rounds_to_link(site, site.today(now))[0]
    maker = Membership.objects.get(person=demo, orchard=site.orchard)
    _, token = make_helper_link(membership=maker, one=one, now=now)
    return f"{live_server.url}/h/{token}/"


def phone(browser: Browser, *, javascript: bool = True) -> Page:
    context = browser.new_context(
        service_workers="block",
        viewport={"width": 360, "height": 740},
        has_touch=True,
        is_mobile=True,
        java_script_enabled=javascript,
    )
    return context.new_page()


@pytest.fixture
def asked(browser: Browser) -> Iterator[tuple[Page, list[Request], list[str]]]:
    """A phone without account, with all it asks for and what its console says."""
    page = phone(browser)
    requests: list[Request] = []
    complaints: list[str] = []
    # Playwright cannot wrap a method of a built-in type.
    page.on("request", lambda one: requests.append(one))  # noqa: PLW0108
    page.on(
        "console",
        lambda said: complaints.append(said.text) if said.type == "error" else None,
    )
    yield page, requests, complaints
    page.context.close()


def enter(page: Page, address: str, name: str = "Sam") -> None:
    page.goto(address)
    page.get_by_label("Your first name").fill(name)
    page.get_by_role("button", name="Show me the round").click()
    page.wait_for_url("**/h/")


def check_page(page: Page) -> None:
    widths = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert widths[0] <= widths[1]
    found = Axe().run(page)
    assert found.response["violations"] == [], found.generate_report()


def test_a_volunteer_opens_a_link_ticks_and_undoes(asked, address, live_server):
    page, requests, complaints = asked
    page.goto(address)
    check_page(page)
    enter(page, address)
    expect(page.get_by_text("You help as Sam")).to_be_visible()
    check_page(page)
    done = page.get_by_role("button", name=re.compile("Done$")).first
    box = done.bounding_box()
    assert box is not None
    assert box["height"] >= 48
    done.click()
    expect(page.get_by_text(re.compile("Done by Sam at"))).to_be_visible()
    entry = LogEntry.objects.latest("id")
    assert entry.helper is not None
    assert (entry.helper.name, entry.person) == ("Sam", None)
    check_page(page)
    page.get_by_role("button", name=re.compile("Undo$")).click()
    expect(page.get_by_text("Taken back.")).to_be_visible()
    entry.refresh_from_db()
    assert entry.voided_at is not None
    assert complaints == []
    # Nothing is asked of anybody else, and nobody is told the link.
    token = address.rstrip("/").rsplit("/", 1)[1]
    for request in requests:
        assert request.url.startswith((live_server.url, "data:")), request.url
        assert token not in request.headers.get("referer", "")
    assert token not in page.url


def test_it_works_without_javascript(browser, address):
    page = phone(browser, javascript=False)
    enter(page, address)
    page.get_by_role("button", name=re.compile("Done$")).first.click()
    expect(page.get_by_text(re.compile("Done by Sam at"))).to_be_visible()
    page.context.close()


def test_two_phones_open_one_link_and_each_undoes_its_own(browser, address):
    sam, kim = phone(browser), phone(browser)
    enter(sam, address, "Sam")
    enter(kim, address, "Kim")
    sam.get_by_role("button", name=re.compile("Done$")).first.click()
    expect(sam.get_by_text(re.compile("Done by Sam at"))).to_be_visible()
    # Kim's page was loaded before: the tick is Sam's, and Kim is named too.
    kim.get_by_role("button", name=re.compile("Done$")).first.click()
    expect(kim.get_by_text(re.compile("you are named too"))).to_be_visible()
    expect(kim.get_by_text(re.compile("Done by Sam and Kim"))).to_be_visible()
    kim.get_by_role("button", name=re.compile("Undo$")).click()
    expect(kim.get_by_text("Your name is off it")).to_be_visible()
    assert LogEntry.objects.latest("id").voided_at is None
    for one in (sam, kim):
        one.context.close()


def test_a_closed_link_says_so(asked, address):
    page, _, _ = asked
    enter(page, address)
    HelperLink.objects.update(revoked_at=timezone.now() - timedelta(minutes=1))
    page.reload()
    expect(page.get_by_role("heading", level=1)).to_have_text("This link does not work")
    expect(page.get_by_text("has closed it")).to_be_visible()
    check_page(page)


def test_a_coordinator_makes_a_link_on_the_phone(page: Page, live_server):
    page.goto(f"{live_server.url}/s/alder-row/")
    page.get_by_role("link", name="Ask somebody without an account to help").click()
    page.get_by_role("button", name="Make a link").click()
    expect(page.get_by_label("Address to send")).to_have_value(
        re.compile(r"/h/[\w-]{43}/$")
    )
    expect(page.get_by_role("img", name=re.compile("square"))).to_be_visible()
    check_page(page)
