"""A browser becomes a device, and its worker shows what a push service hands it.

The push services of the world are not reached from here: the browser's own keys are
real, its subscription is made up, and a push is handed in by the browser's own tools.
"""

import json

import pytest
from playwright.sync_api import expect

from orchard.models import PushSubscription
from tests.browser.line import Line
from tests.browser.phone_steps import open_phone, wait_until
from tests.orchard.actions.push_service import Browser

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

SHOWN = """async () => {
  const registration = await navigator.serviceWorker.ready;
  const shown = await registration.getNotifications();
  return shown.map((one) => [one.title, one.body, one.tag, one.data.path]);
}"""
PRETEND = """
const said = %s;
const bytesOf = (text) => Uint8Array.from(
  atob(text.replace(/-/g, "+").replace(/_/g, "/")), (one) => one.charCodeAt(0)).buffer;
let key;
const pretended = {
  endpoint: said.endpoint,
  get options() { return { applicationServerKey: key }; },
  getKey: (name) => bytesOf(name === "auth" ? said.auth_secret : said.public_key),
};
PushManager.prototype.subscribe = async (options) => {
  key = options.applicationServerKey.buffer;
  sessionStorage.setItem("key", btoa(String.fromCharCode(...new Uint8Array(key))));
  return pretended;
};
PushManager.prototype.getSubscription = async () => {
  const kept = sessionStorage.getItem("key");
  key = kept && bytesOf(kept);
  return kept ? pretended : null;
};
"""


@pytest.fixture
def phone(browser, live_server, demo, settings):
    """A phone with its worker, whose browser says it subscribed."""
    line, itself = Line(live_server.url), Browser()
    settings.BASE_URL = line.url
    settings.PUSH_HOSTS = ("push.example.org",)
    page = open_phone(browser, line, demo)
    page.context.grant_permissions(["notifications"], origin=line.url)
    page.add_init_script(PRETEND % json.dumps(itself.said))
    page.goto(f"{line.url}/you/")
    yield page
    page.context.close()
    line.cut()


def test_a_phone_is_added_by_one_press_and_shows_what_it_is_handed(phone, demo):
    phone.get_by_role("button", name="Send messages to this device").click()
    expect(
        phone.get_by_text("Messages come to this device from now on.")
    ).to_be_visible()
    expect(phone.get_by_text("(this device)")).to_be_visible()
    assert PushSubscription.objects.get().person == demo
    hand = handing(phone)
    for _ in range(2):  # the second takes the place of the first
        hand({"title": "Cold tonight", "body": "-3", "tag": "t", "path": "/you/"})
        wait_until(phone, f"({SHOWN})().then((shown) => shown.length === 1)")
    assert phone.evaluate(SHOWN) == [["Cold tonight", "-3", "t", "/you/"]]


def handing(phone):
    """Return what hands the phone's worker a push, as a push service would."""
    session = phone.context.new_cdp_session(phone)
    registered = []
    session.on(
        "ServiceWorker.workerRegistrationUpdated",
        lambda event: registered.extend(event["registrations"]),
    )
    session.send("ServiceWorker.enable")
    for _ in range(250):
        if registered:
            break
        phone.wait_for_timeout(20)
    return lambda notice: session.send(
        "ServiceWorker.deliverPushMessage",
        {
            "origin": phone.evaluate("location.origin"),
            "registrationId": registered[-1]["registrationId"],
            "data": json.dumps(notice),
        },
    )


def test_a_browser_that_was_told_no_says_what_to_do(page, live_server):
    page.add_init_script(
        "Object.defineProperty(Notification, 'permission', { get: () => 'denied' })"
    )
    page.goto(f"{live_server.url}/you/")
    expect(page.get_by_text("Allow notifications in its settings")).to_be_visible()
    expect(
        page.get_by_role("button", name="Send messages to this device")
    ).to_be_hidden()
