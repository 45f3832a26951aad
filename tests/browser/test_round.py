"""The round in a real browser: two taps, amounts in place, one tree at a time."""

import re

import pytest
from playwright.sync_api import Page, expect

from care.models import LogEntry
from orchard.models import Tree
from tests.browser.page_check import assert_well_made

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

SITE = "/s/alder-row"
PATHS = ("", "round/tree/", "hose/")
WIDTHS = "[document.documentElement.scrollWidth, innerWidth]"


def mine():
    return LogEntry.objects.filter(person__username="marta", voided_at=None)


def test_another_amount_is_typed_in_the_line_before_it_is_ticked(page: Page):
    line = page.get_by_role("listitem").filter(has=page.locator(".set")).first
    line.locator("summary").click()
    before = mine().count()
    line.get_by_role("textbox").fill("7,5")
    line.get_by_role("button", name=re.compile("Done$")).click()
    expect(page.get_by_role("button", name=re.compile("Undo$")).first).to_be_visible()
    assert mine().count() == before + 1
    assert mine().latest("id").amount == 7.5


def test_all_of_yesterday_is_done_in_two_taps_and_taken_back_in_one(page: Page):
    before = mine().count()
    page.get_by_text("All of it is done", exact=True).click()
    page.get_by_role("button", name=re.compile("^All .* done yesterday")).click()
    back = page.get_by_role("button", name="Take all of it back")
    expect(back).to_be_visible()
    assert mine().count() > before + 1
    back.click()
    expect(page.get_by_text(re.compile("^Taken back:"))).to_be_visible()
    assert mine().count() == before


def test_one_tree_at_a_time_leads_from_done_to_the_next(page: Page, live_server):
    page.goto(f"{live_server.url}{SITE}/round/tree/")
    expect(page.locator(".one__step:visible")).to_have_count(1)
    title = page.locator(".one__step:visible h2")
    first = title.inner_text()
    page.get_by_role("link", name="Next").click()
    expect(page.locator(".one__step:visible")).to_have_count(1)
    second = title.inner_text()
    assert first != second
    done = page.locator(".one__step:visible").get_by_role(
        "button", name=re.compile("Done$")
    )
    box = done.bounding_box()
    assert box is not None
    assert box["height"] >= 64
    screen = page.viewport_size
    assert screen is not None
    assert box["y"] > screen["height"] / 2  # within the thumb's reach
    page.get_by_role("button", name="Read it aloud").click()
    expect(page.get_by_role("button", name="Stop reading aloud")).to_be_visible()
    page.get_by_role("button", name="Start the clock").click()
    expect(page.get_by_role("button", name="Stop the clock")).to_be_visible()
    page.evaluate("sessionStorage.setItem('timer-start', String(Date.now() - 250000))")
    done.click()
    expect(title).not_to_have_text(second)
    assert title.inner_text() != first
    assert mine().latest("id").minutes_spent == 4  # 250 s


def test_one_tree_at_a_time_works_without_javascript(browser, page: Page, live_server):
    state = page.context.storage_state()
    context = browser.new_context(java_script_enabled=False, storage_state=state)
    plain = context.new_page()
    plain.goto(f"{live_server.url}{SITE}/round/tree/")
    expect(plain.locator(".one__step:visible")).to_have_count(1)
    plain.get_by_role("link", name="Next").click()
    step = plain.locator(".one__step:visible")
    expect(step).to_have_count(1)
    step.get_by_role("button", name=re.compile("Done$")).click()
    expect(plain.get_by_role("button", name="Undo")).to_be_visible()
    expect(plain.locator("[data-hands-free]")).to_be_hidden()
    context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_its_pages_meet_wcag_on_the_smallest_phone(page: Page, live_server, scheme):
    page.emulate_media(color_scheme=scheme)
    page.set_viewport_size({"width": 320, "height": 720})
    for path in PATHS:
        assert_well_made(page, f"{live_server.url}{SITE}/{path}", scheme)


def test_text_from_the_right_never_scrolls_sideways(page: Page, live_server):
    for path in (*PATHS, "trees/", "log/", "weather/", "season/"):
        page.goto(f"{live_server.url}{SITE}/{path}")
        page.evaluate("document.documentElement.dir = 'rtl'")
        content, screen = page.evaluate(WIDTHS)
        assert content <= screen, path


def test_the_bar_never_hides_what_has_the_focus(page: Page):
    for _ in range(40):
        page.keyboard.press("Tab")
        hidden = page.evaluate(
            """() => {
              const at = document.activeElement;
              const bar = document.querySelector(".bar");
              if (at === document.body || bar.contains(at)) return false;
              const box = at.getBoundingClientRect();
              return box.top >= bar.getBoundingClientRect().top;
            }"""
        )
        assert not hidden


def test_a_name_of_sixty_letters_breaks_and_pushes_nothing_off(page: Page, live_server):
    Tree.objects.filter(site__slug="alder-row").update(name="Wunderapfel" * 5 + "baum!")
    page.set_viewport_size({"width": 320, "height": 720})
    for path in (*PATHS, "trees/", "log/"):
        page.goto(f"{live_server.url}{SITE}/{path}")
        content, screen = page.evaluate(WIDTHS)
        assert content <= screen, path


def test_what_takes_longer_says_so_in_a_word(page: Page):
    held = []
    page.route("**/done/", lambda route: held.append(route))  # noqa: PLW0108 (Playwright marks it)
    line = page.get_by_role("listitem").filter(has_text=re.compile("Water ")).first
    line.get_by_role("button", name=re.compile("Done$")).click()
    expect(line.get_by_text("Sending it")).to_be_visible()
    held[0].continue_()
    expect(page.get_by_role("button", name=re.compile("Undo$")).first).to_be_visible()
    expect(page.get_by_text("Sending it").first).to_be_hidden()
