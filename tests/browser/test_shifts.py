"""A shift from its making to a yes, by two people on two phones."""

import re

import pytest
from playwright.sync_api import Page, expect

from care.models import Shift, ShiftPlace
from orchard.actions.people import make_signin_link
from orchard.models import Person

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def a_shift_of_two(page: Page, start: str) -> Shift:
    page.goto(f"{start}/shifts/add/")
    page.get_by_label("What is it called").fill("Saturday watering")
    page.get_by_label("How many people it needs").fill("2")
    page.get_by_role("button", name="Make it").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Saturday watering")
    return Shift.objects.get(name="Saturday watering")


def test_a_shift_is_made_shared_out_published_and_taken(
    browser, page: Page, live_server
):
    start = f"{live_server.url}/s/alder-row"
    shift = a_shift_of_two(page, start)
    page.goto(f"{start}/rota/")
    page.get_by_role("button", name=re.compile("Propose")).click()
    page.get_by_role("link", name="Look over and publish").click()
    page.get_by_role("button", name="Publish", exact=True).click()
    page.wait_for_load_state("networkidle")
    shift.refresh_from_db()
    assert shift.status == Shift.Status.PUBLISHED
    held = ShiftPlace.objects.filter(shift=shift, holder__isnull=False)
    assert set(held.values_list("holder__username", flat=True)) == {"marta", "tomas"}

    context = browser.new_context(
        service_workers="block", viewport={"width": 390, "height": 844}
    )
    other = context.new_page()
    other.goto(make_signin_link(person=Person.objects.get(username="tomas")))
    other.get_by_role("button").first.click()
    other.wait_for_url("**/s/alder-row/")
    other.goto(f"{start}/my-shifts/")
    other.get_by_role("button", name=re.compile("I can come")).click()
    other.wait_for_load_state("networkidle")
    context.close()
    place = held.get(holder__username="tomas")
    assert place.accepted_at is not None
