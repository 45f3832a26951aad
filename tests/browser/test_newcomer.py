"""A newcomer on a phone: from nothing to a plan, with no file and no mail server."""

import re

import pytest
from playwright.sync_api import Browser, expect

from care.models import Task
from orchard.models import Person, Tree

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

NORMALS = """\
Jan 4.5 10.1 95
Feb 5.0 11.6 65
Mar 6.9 14.1 50
Apr 8.4 16.6 30
May 10.5 19.9 20
Jun 13.4 24.6 8
Jul 15.7 28.9 2
Aug 15.6 28.4 3
Sep 13.6 25.4 10
Oct 10.4 19.6 35
Nov 7.0 13.4 70
Dec 4.6 10.2 90
"""
TREES = "Big lemon, lemon, pot 60 L, 2023\nOld apple, apple, ground, unknown\n"


def test_from_nothing_to_a_plan(browser: Browser, live_server, transactional_db):
    context = browser.new_context(
        service_workers="block",
        viewport={"width": 390, "height": 844},
        has_touch=True,
        is_mobile=True,
    )
    page = context.new_page()
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))

    page.goto(f"{live_server.url}/accounts/signup/")
    page.locator("input[name=username]").fill("hanna")
    page.locator("input[name=password1]").fill("plum-stones-in-march")
    page.locator("input[name=password2]").fill("plum-stones-in-march")
    page.locator("form:has(input[name=password2])").get_by_role("button").click()

    page.wait_for_url("**/start/")
    page.get_by_label("What do you call the orchard?").fill("Hanna's hill")
    page.get_by_label("The city or town next to it").fill("Sacramento")
    page.get_by_role("button", name="Find the city").click()
    page.get_by_label("Sacramento, California, United States").check()
    page.get_by_role("button", name="Go on").click()

    page.wait_for_url("**/weather/normals/**")
    page.get_by_role("textbox").first.fill(NORMALS)
    page.get_by_role("button", name="Read the table").click()
    page.get_by_role("button", name="Keep these months").click()

    page.wait_for_url("**/trees/**")
    page.get_by_role("link", name=re.compile("Paste a list")).click()
    page.get_by_role("textbox").first.fill(TREES)
    page.get_by_role("button", name="Look at what it means").click()
    page.get_by_role("button", name="Enter 2 trees").click()

    assert Person.objects.get().username == "hanna"
    assert Tree.objects.count() == 2
    site = Tree.objects.earliest("id").site
    page.goto(f"{live_server.url}/s/{site.slug}/")
    expect(page.get_by_role("heading", level=1)).to_have_text(site.name)
    planned = Task.objects.filter(site=site, status="open")
    assert planned.exists()
    # Nobody knows what the old apple was fed before: no dose, only a question.
    fed = planned.filter(tree__name="Old apple", kind="feeding", is_firm=True)
    assert set(fed.values_list("action", flat=True)) <= {"check"}
    assert complaints == []
    context.close()
