"""What a person does on a phone, in a real browser."""

import re

import pytest
from playwright.sync_api import Page, expect

from care.models import LogEntry, Task
from orchard.models import Tree

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def test_a_tick_is_logged_and_can_be_undone(page: Page):
    line = (
        page.get_by_role("listitem").filter(has_text=re.compile("^Water|Water ")).first
    )
    expect(line).to_be_visible()
    line.get_by_role("button", name=re.compile("Done$")).click()
    expect(page.get_by_role("button", name=re.compile("Undo$")).first).to_be_visible()
    entry = LogEntry.objects.filter(person__username="marta").latest("id")
    assert (entry.what, entry.kind, entry.unit) == ("done", "watering", "L")
    assert entry.task is not None
    assert entry.task.status == Task.Status.DONE
    page.get_by_role("button", name=re.compile("Undo$")).first.click()
    page.wait_for_load_state("networkidle")
    entry.refresh_from_db()
    assert entry.voided_at is not None
    entry.task.refresh_from_db()
    assert entry.task.status == Task.Status.OPEN


def test_a_tick_control_is_large_enough_for_a_thumb(page: Page):
    box = page.get_by_role("button", name=re.compile("Done$")).first.bounding_box()
    assert box is not None
    assert box["height"] >= 48
    assert box["width"] >= 48


def test_next_week_shows_another_plan(page: Page):
    before = page.get_by_role("heading", level=1).locator("..").inner_text()
    page.get_by_role("button", name="Next week").click()
    page.wait_for_load_state("networkidle")
    after = page.get_by_role("heading", level=1).locator("..").inner_text()
    assert before != after


def test_why_is_one_tap_away(page: Page):
    page.get_by_role("link", name=re.compile("Water")).first.click()
    page.wait_for_load_state("networkidle")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Water")
    assert page.locator("svg").count() >= 1


def test_a_spray_holds_the_fruit_and_undo_frees_it(page: Page, live_server):
    fig = Tree.objects.get(name="Fig in the corner")
    page.goto(f"{live_server.url}/s/alder-row/trees/{fig.public_id}/")
    page.get_by_text("Sprayed it", exact=True).click()
    page.get_by_label("What was sprayed").fill("Sample spray")
    page.get_by_label("Days to wait before picking").fill("7")
    page.get_by_role("button", name="Log the spray").click()
    # Sprayed on 14 July with seven days to wait.
    held = page.get_by_text("Do not pick before 21 July").first
    expect(held).to_be_visible()
    page.get_by_role("button", name=re.compile("Sprayed Fig.*Undo")).click()
    expect(page.get_by_text("Do not pick before")).to_have_count(0)


def test_it_works_without_javascript(browser, page: Page, live_server):
    state = page.context.storage_state()
    context = browser.new_context(java_script_enabled=False, storage_state=state)
    plain = context.new_page()
    plain.goto(f"{live_server.url}/s/alder-row/")
    plain.get_by_role("button", name=re.compile("Done$")).first.click()
    expect(plain.get_by_role("button", name=re.compile("Undo$")).first).to_be_visible()
    context.close()
