"""Looking after something and switching orchards, on a phone and without JavaScript."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from orchard.actions.people import make_signin_link

pytestmark = pytest.mark.browser


def fits(page: Page) -> bool:
    return bool(
        page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    )


def violations(page: Page) -> list[str]:
    found = Axe().run(page).response["violations"]
    return [f"{one['id']}: {one['nodes'][0]['html']}" for one in found]


def test_a_block_is_taken_in_two_taps_and_the_round_begins_with_it(page: Page):
    page.goto(re.sub(r"/s/alder-row/.*", "/s/alder-row/care/", page.url))
    assert fits(page)
    assert violations(page) == []
    page.get_by_role("button", name="Patio: I look after it").click()
    assert page.get_by_text("You look after Patio.").is_visible()
    assert violations(page) == []
    page.goto(page.url.split("care/")[0])
    mine = page.get_by_role("link", name=re.compile("^Mine: "))
    assert mine.get_attribute("aria-current") == "true"
    assert fits(page)
    assert violations(page) == []
    page.get_by_text("One block").click()
    page.get_by_role("link", name=re.compile("^Patio: ")).click()
    assert page.get_by_text(re.compile("^Shown: Patio, ")).is_visible()


def test_one_orchard_is_two_taps_from_another_without_javascript(
    browser, live_server, demo, settings
):
    settings.BASE_URL = live_server.url
    context = browser.new_context(
        service_workers="block",
        viewport={"width": 320, "height": 640},
        java_script_enabled=False,
    )
    page = context.new_page()
    page.goto(make_signin_link(person=demo))
    page.get_by_role("button").first.click()
    page.wait_for_url("**/s/alder-row/")
    page.get_by_text("More", exact=True).click()
    page.get_by_role("link", name="Quay Steps Garden").click()
    page.wait_for_url("**/s/quay-steps/")
    page.get_by_text("More", exact=True).click()
    here = page.get_by_role("link", name="Quay Steps Garden (you are here)")
    assert here.get_attribute("aria-current") == "true"
    context.close()


def test_messages_are_chosen_on_a_phone(page: Page):
    page.goto(re.sub(r"/s/alder-row/.*", "/you/", page.url))
    page.get_by_text("Choose your messages").click()
    assert fits(page)
    assert violations(page) == []
    page.get_by_label("Cold tonight, for what I look after").uncheck()
    page.get_by_role("button", name="Keep the choice").click()
    page.get_by_text("Choose your messages").click()
    box = page.get_by_label("Cold tonight, for what I look after")
    assert not box.is_checked()
