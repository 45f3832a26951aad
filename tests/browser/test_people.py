"""An owner invites on one phone; a newcomer makes an account on another and joins."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from orchard.models import Membership, Person
from tests.browser.page_check import assert_well_made

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

PASSWORD = "plum-stones-in-march"


@pytest.fixture
def newcomers_phone(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(
        service_workers="block",
        viewport={"width": 320, "height": 720},
        has_touch=True,
        is_mobile=True,
    )
    page = context.new_page()
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    yield page
    context.close()
    assert complaints == []


def invite(page: Page, server: str, whom: str) -> str:
    page.goto(f"{server}/s/alder-row/people/")
    page.get_by_label("For whom?").fill(whom)
    page.get_by_role("button", name="Make an invitation").click()
    expect(page.locator("svg.square")).to_be_visible()
    return page.locator("#secret-address").input_value()


def test_an_invitation_brings_a_newcomer_in_and_out_again(
    page: Page, newcomers_phone: Page, live_server
):
    address = invite(page, live_server.url, "Ana")
    assert_well_made(newcomers_phone, address)
    newcomers_phone.get_by_role("link", name="Make an account").click()
    newcomers_phone.locator("input[name=username]").fill("ana")
    newcomers_phone.locator("input[name=password1]").fill(PASSWORD)
    newcomers_phone.locator("input[name=password2]").fill(PASSWORD)
    newcomers_phone.get_by_role("button", name="Make the account").click()
    newcomers_phone.get_by_role("button", name="Join as ana").click()
    newcomers_phone.wait_for_url("**/s/alder-row/")
    expect(newcomers_phone.get_by_text("as a Grower.")).to_be_visible()
    assert Membership.objects.get(person__username="ana").role == "grower"

    page.goto(f"{live_server.url}/s/alder-row/people/")
    page.locator("summary", has_text="Change ana").click()
    page.get_by_role("button", name="Take ana out").click()
    expect(page.get_by_text("ana is out")).to_be_visible()
    newcomers_phone.reload()
    expect(newcomers_phone.get_by_role("heading", name="Sign in")).to_be_visible()
    assert Person.objects.filter(username="ana").exists()


@pytest.mark.parametrize("path", ["people/", "people/trail/"])
def test_the_pages_of_people_are_well_made_on_a_small_phone(
    page: Page, live_server, path
):
    invite(page, live_server.url, "Ana " * 15)
    page.set_viewport_size({"width": 320, "height": 720})
    assert_well_made(page, f"{live_server.url}/s/alder-row/{path}")
