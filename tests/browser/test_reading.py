"""Pages that are read rather than ticked, on the smallest phone."""

import pytest
from playwright.sync_api import Page, expect

from care.models import Task

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

SITE = "/s/alder-row"


def task_address(**which) -> str:
    task = Task.objects.filter(site__slug="alder-row", status="open", **which).earliest(
        "due", "id"
    )
    return f"{SITE}/tasks/{task.public_id}/"


def test_an_equation_stands_whole_inside_its_frame_on_the_smallest_phone(
    page: Page, live_server
):
    page.set_viewport_size({"width": 320, "height": 720})
    page.goto(f"{live_server.url}{task_address(kind='watering')}working/")
    frames = page.locator(".equation")
    expect(frames.first).to_contain_text("ET0")
    assert frames.count() >= 4
    overflowing = frames.evaluate_all(
        "all => all.filter(one => one.scrollWidth > one.clientWidth).length"
    )
    assert overflowing == 0


def test_the_season_begins_with_what_matters_now(page: Page, live_server):
    page.goto(f"{live_server.url}{SITE}/season/")
    expect(page.get_by_text("degree days above", exact=False).first).to_be_visible()
    table = page.get_by_role("table", name="Stages of this year")
    expect(table).to_be_hidden()
    page.get_by_text("Stages of this year", exact=True).first.click()
    expect(table).to_be_visible()
