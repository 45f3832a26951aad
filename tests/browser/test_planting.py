"""From an empty yard to a standing tree, on a phone; and the pages of it to read."""

import re

import pytest
from playwright.sync_api import Page, expect

from care.models import LogEntry
from orchard.models import Feature, Tree, WantedTree

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

SITE = "/s/quay-steps"


def test_a_yard_of_12_by_20_metres_is_planned_from_nothing(page: Page, live_server):
    start = f"{live_server.url}{SITE}"
    page.goto(f"{start}/plan/")
    page.get_by_role("link", name="Begin with two corners").click()
    page.get_by_label("The corner at your left hand").fill("A")
    page.get_by_label("The corner at your right hand").fill("B")
    page.get_by_label("From the one to the other (m)").fill("12")
    page.get_by_role("button", name="Save both corners").click()
    page.goto(f"{start}/plan/features/add/?kind=boundary")
    page.get_by_label("How far along (m)").fill("12")
    page.get_by_label("How far across (m)").fill("20")
    page.get_by_role("button", name="Put it on the plan").click()
    yard = Feature.objects.get(site__slug="quay-steps", kind="boundary")
    assert sorted(map(tuple, yard.points_m)) == [(0, 0), (0, 20), (12, 0), (12, 20)]

    page.goto(f"{start}/planting/")
    page.get_by_role("link", name="Plan a planting").click()
    page.get_by_label("Name of the planting").fill("The new yard")
    page.get_by_role("button", name="Begin, and add its trees").click()
    for kind in ("limes", "jaboticaba"):
        page.get_by_label("What tree?").fill(kind)
        page.get_by_role("button", name="And add another").click()
    page.get_by_role("link", name="The new yard").first.click()
    page.get_by_role("link", name="Propose places").click()
    page.get_by_role("button", name="Keep what is ticked").click()
    lime, jaboticaba = WantedTree.objects.filter(
        planting__name="The new yard"
    ).order_by("id")
    for one in (lime, jaboticaba):
        assert one.x_m is not None
        assert one.y_m is not None
        assert 0 < one.x_m < 12
        assert 0 < one.y_m < 20

    page.goto(f"{start}/wanted/{lime.public_id}/")
    asked = page.locator(".line", has_text="Ask where pipes and cables lie").first
    asked.get_by_role("button", name=re.compile("Done$")).click()
    expect(asked.get_by_role("button", name=re.compile("Undo$"))).to_be_visible()
    page.get_by_role("button", name=re.compile("^It stands")).click()
    page.wait_for_load_state("networkidle")
    tree = Tree.objects.get(wanted=lime)
    assert (tree.x_m, tree.y_m) == (lime.x_m, lime.y_m)
    log = LogEntry.objects.filter(tree=tree, kind="planting")
    assert set(log.values_list("action", flat=True)) == {"locate", "plant"}
