"""Signing in, out and safely, in a real browser under the strict content policy."""

import time

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.core.cache import cache
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.orchard.one_time_codes import PERIOD_S, code_at

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

PASSWORD = "a good long pass"
HOME = "**/s/test-site/"


@pytest.fixture(autouse=True)
def fresh_limits():
    cache.clear()


class Phone:
    """A narrow browser of the owner's; what it complains of is kept."""

    def __init__(self, browser: Browser, server: str) -> None:
        self.context: BrowserContext = browser.new_context(
            service_workers="block",
            viewport={"width": 320, "height": 720},
            has_touch=True,
            is_mobile=True,
            base_url=server,
        )
        self.page: Page = self.context.new_page()
        self.complaints: list[str] = []
        self.page.on("console", self._listen)
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))

    def _listen(self, message) -> None:
        if message.type == "error":
            self.complaints.append(message.text)

    def press(self, name: str) -> None:
        self.page.get_by_role("button", name=name, exact=True).click()

    def follow(self, name: str) -> None:
        self.page.get_by_role("link", name=name).click()

    def sign_in(self) -> None:
        self.page.goto("/accounts/login/")
        self.page.get_by_label("User name or email").fill("owner")
        self.page.get_by_label("Password", exact=True).fill(PASSWORD)
        self.press("Sign in")

    def sign_out(self) -> None:
        self.page.goto("/you/")
        self.page.locator("main").get_by_role("button", name="Sign out").click()
        self.page.wait_for_url("**/accounts/login/")

    def confirm(self) -> None:
        """Show once more that it is the owner: changing the ways in asks for it."""
        expect(self.page.get_by_role("heading", level=1)).to_have_text("Is it you?")
        self.page.get_by_label("Password").fill(PASSWORD)
        self.press("Go on")

    def plug_in_a_passkey(self) -> None:
        """Give the browser an authenticator that is always present and willing."""
        devtools = self.context.new_cdp_session(self.page)
        devtools.send("WebAuthn.enable")
        options = {
            "protocol": "ctap2",
            "transport": "internal",
            "hasResidentKey": True,
            "hasUserVerification": True,
            "isUserVerified": True,
            "automaticPresenceSimulation": True,
        }
        devtools.send("WebAuthn.addVirtualAuthenticator", {"options": options})

    def add_passkey(self, name: str) -> None:
        self.page.goto("/you/")
        self.follow("Passkeys, authenticator app")
        self.follow("Add a passkey")
        self.confirm()
        self.page.get_by_label("A name for it").fill(name)
        self.press("Add it")

    def set_up_app(self) -> str:
        self.page.goto("/you/")
        self.follow("Passkeys, authenticator app")
        self.follow("Set up an app")
        self.confirm()
        drawn = "document.querySelector('img.scan').naturalWidth"
        assert self.page.evaluate(drawn) > 100
        secret = self.page.get_by_label("The secret").input_value()
        self.type_code(secret, "The six digits the app shows now")
        self.press("Turn it on")
        return secret

    def type_code(self, secret: str, label: str) -> None:
        left_s = PERIOD_S - time.time() % PERIOD_S
        if left_s < 5:
            self.page.wait_for_timeout(left_s * 1000 + 100)
        self.page.get_by_label(label).fill(code_at(secret, time.time()))

    def recovery_codes(self) -> list[str]:
        expect(self.page.get_by_role("heading", level=1)).to_have_text("Recovery codes")
        return self.page.locator("li.secret").all_inner_texts()


@pytest.fixture
def phone(browser: Browser, live_server, site):
    one = Phone(browser, live_server.url)
    yield one
    one.context.close()
    assert one.complaints == []


def test_a_passkey_alone_signs_in(phone: Phone):
    phone.plug_in_a_passkey()
    phone.sign_in()
    phone.page.wait_for_url(HOME)
    phone.add_passkey("My phone")
    assert len(phone.recovery_codes()) == 10

    phone.sign_out()
    phone.press("Sign in with a passkey")
    phone.page.wait_for_url(HOME)
    phone.page.goto("/accounts/second-step/webauthn/")
    card = phone.page.locator("section.card", has_text="My phone")
    expect(card).to_contain_text("Signs you in by itself.")
    expect(card).to_contain_text("last used")


def test_after_a_password_the_passkey_is_the_second_step(phone: Phone):
    phone.plug_in_a_passkey()
    phone.sign_in()
    phone.page.wait_for_url(HOME)
    phone.add_passkey("Key ring")
    phone.recovery_codes()

    phone.sign_out()
    phone.sign_in()
    expect(phone.page.get_by_role("heading", level=1)).to_have_text("The second step")
    phone.press("Use a passkey")
    phone.page.wait_for_url(HOME)


def test_a_passkey_that_does_not_come_is_said_in_words(phone: Phone):
    phone.plug_in_a_passkey()
    phone.page.goto("/accounts/login/")
    phone.press("Sign in with a passkey")
    expect(phone.page.get_by_role("alert")).to_contain_text("No passkey was used")
    phone.sign_in()
    phone.page.wait_for_url(HOME)


def test_an_app_and_the_recovery_codes_are_the_second_step(phone: Phone):
    phone.sign_in()
    phone.page.wait_for_url(HOME)
    secret = phone.set_up_app()
    codes = phone.recovery_codes()

    phone.sign_out()
    phone.sign_in()
    phone.page.get_by_label("Code").fill("000000 and more")
    phone.press("Sign in")
    expect(phone.page.get_by_role("alert").last).to_contain_text("Incorrect code")
    phone.type_code(secret, "Code")
    phone.press("Sign in")
    phone.page.wait_for_url(HOME)

    phone.sign_out()
    phone.sign_in()
    phone.page.get_by_label("Code").fill(codes[0])
    phone.press("Sign in")
    phone.page.wait_for_url(HOME)
    phone.page.goto("/you/")
    expect(phone.page.locator("main")).to_contain_text("the app is on")


def test_a_lost_phone_is_signed_out_from_another(phone: Phone, browser, live_server):
    lost = Phone(browser, live_server.url)
    for one in (lost, phone):
        one.sign_in()
        one.page.wait_for_url(HOME)
    phone.page.goto("/you/")
    phone.follow("Where you are signed in")
    expect(phone.page.get_by_role("listitem")).to_have_count(
        2 + phone.page.locator("nav li").count()
    )
    phone.page.get_by_role("button", name="End the one of").click()
    expect(phone.page.locator("p[role=status]")).to_contain_text("signed out")
    lost.page.goto("/you/")
    lost.page.wait_for_url("**/accounts/login/**")
    phone.page.goto("/you/")
    expect(phone.page.get_by_role("heading", level=1)).to_have_text("owner")
    lost.context.close()
    assert lost.complaints == []


def test_all_others_are_signed_out_at_once(phone: Phone, browser, live_server):
    others = [Phone(browser, live_server.url) for _ in range(2)]
    for one in (*others, phone):
        one.sign_in()
        one.page.wait_for_url(HOME)
    phone.page.goto("/accounts/sessions/")
    phone.press("End all others")
    expect(phone.page.locator("main")).to_contain_text("Nowhere else.")
    for one in others:
        one.page.goto("/you/")
        one.page.wait_for_url("**/accounts/login/**")
        one.context.close()


def test_a_password_may_be_pasted_and_be_long(phone: Phone):
    long = "seven ripe plums, " * 5
    phone.sign_in()
    phone.page.wait_for_url(HOME)
    phone.page.goto("/accounts/password/change/")
    phone.page.evaluate(
        """words => {
        const box = document.querySelector("input[name=oldpassword]");
        box.focus();
        const data = new DataTransfer();
        data.setData("text/plain", words);
        const paste = new ClipboardEvent(
          "paste", {clipboardData: data, bubbles: true, cancelable: true});
        window.pasted = box.dispatchEvent(paste);
    }""",
        long,
    )
    assert phone.page.evaluate("window.pasted") is True  # nothing forbade it
    phone.page.locator("input[name=oldpassword]").fill(PASSWORD)
    for name in ("password1", "password2"):
        phone.page.locator(f"input[name={name}]").fill(long)
    phone.press("Change it")
    phone.page.wait_for_url("**/you/")
    expect(phone.page.locator("p[role=status]")).to_contain_text("password is changed")


DOORS = ["login/", "signup/", "password/reset/", "password/reset/done/", "inactive/"]
ROOMS = [
    "/you/",
    "/accounts/email/",
    "/accounts/password/change/",
    "/accounts/second-step/",
    "/accounts/second-step/webauthn/",
    "/accounts/second-step/webauthn/add/",
    "/accounts/second-step/recovery-codes/",
    "/accounts/second-step/recovery-codes/generate/",
    "/accounts/second-step/totp/deactivate/",
    "/accounts/sessions/",
    "/accounts/connected/",
    "/accounts/reauthenticate/",
]


def holds_up(page: Page, path: str) -> None:
    answer = page.goto(path)
    assert answer is not None
    assert answer.status == 200, path
    page.evaluate(
        "document.querySelectorAll('details.fold').forEach(each => each.open = true)"
    )
    widths = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert widths[0] <= widths[1], path
    found = Axe().run(page)
    assert found.response["violations"] == [], path + found.generate_report()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_account_pages_meet_wcag_and_never_scroll_sideways(
    phone: Phone, settings, scheme
):
    settings.SIGNUP = "open"
    phone.page.emulate_media(color_scheme=scheme)
    for path in DOORS:
        holds_up(phone.page, f"/accounts/{path}")
    phone.sign_in()
    phone.page.wait_for_url(HOME)
    phone.page.goto("/accounts/second-step/totp/activate/")
    phone.confirm()
    holds_up(phone.page, "/accounts/second-step/totp/activate/")
    secret = phone.page.get_by_label("The secret").input_value()
    phone.type_code(secret, "The six digits the app shows now")
    phone.press("Turn it on")
    phone.recovery_codes()
    for path in ROOMS:
        holds_up(phone.page, path)
    phone.sign_out()
    phone.sign_in()
    expect(phone.page.get_by_role("heading", level=1)).to_have_text("The second step")
    holds_up(phone.page, "/accounts/second-step/authenticate/")
