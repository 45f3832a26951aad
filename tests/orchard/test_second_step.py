"""Authenticator apps and recovery codes; passkeys need a browser's own test."""

import base64
import json
import time
from io import BytesIO
from urllib.parse import parse_qs, urlsplit

import pytest
from allauth.mfa.models import Authenticator
from django.core.cache import cache
from django.core.management import call_command
from django.urls import reverse
from hypothesis import HealthCheck, example, given, settings, strategies as st
from lxml import etree, html  # type: ignore[import-untyped]  # lxml ships no types

from orchard.actions.people import make_signin_link
from orchard.forms.second_step import LONGEST_NAME, AddPasskeyForm, SecondStepAdapter
from tests.orchard.one_time_codes import code_at
from tests.orchard.plain_page import one_error, page_of, text_of

PASSWORD = "a good long pass"
SEED = base64.b32encode(b"12345678901234567890").decode()


@pytest.fixture(autouse=True)
def fresh_limits():
    cache.clear()


@pytest.mark.parametrize(
    ("seconds", "code"),
    [
        # RFC 6238 (2011), appendix B, the rows of SHA-1.
        (59, "94287082"),
        (1111111109, "07081804"),
        (1111111111, "14050471"),
        (1234567890, "89005924"),
        (2000000000, "69279037"),
        (20000000000, "65353130"),
    ],
)
def test_our_apps_codes_are_those_of_the_standard(seconds, code):
    assert code_at(SEED, seconds, digits=8) == code


def confirm(browser, next_url):
    """Follow to the page that asks for the password once more, and give it."""
    answer = browser.post(
        reverse("account_reauthenticate"), {"password": PASSWORD, "next": next_url}
    )
    assert answer.url == next_url


def set_up(browser):
    """Turn an app on; return its secret."""
    url = reverse("mfa_activate_totp")
    confirm(browser, url)
    page = page_of(browser.get(url))
    secret = page.xpath("//input[@id='authenticator_secret']/@value")[0]
    answer = browser.post(url, {"code": code_at(secret, time.time())})
    assert answer.url == reverse("mfa_view_recovery_codes")
    return secret


def codes_of(browser):
    page = page_of(browser.get(reverse("mfa_view_recovery_codes")))
    return page.xpath("//li[@class='secret']/text()")


def begin(client):
    answer = client.post("/accounts/login/", {"login": "grower", "password": PASSWORD})
    assert answer.url == reverse("mfa_authenticate")
    assert "_auth_user_id" not in client.session


def test_with_an_app_the_password_alone_is_not_enough(cast, client_of, client):
    secret = set_up(client_of(cast.grower))
    begin(client)
    wrong = client.post(reverse("mfa_authenticate"), {"code": "12"})
    one_error(wrong, "Incorrect code")
    client.post(reverse("mfa_authenticate"), {"code": code_at(secret, time.time())})
    assert client.session["_auth_user_id"] == str(cast.grower.pk)


def test_a_recovery_code_works_once(cast, client_of, client):
    browser = client_of(cast.grower)
    set_up(browser)
    codes = codes_of(browser)
    assert len(set(codes)) == 10
    begin(client)
    client.post(reverse("mfa_authenticate"), {"code": codes[3]})
    assert client.session["_auth_user_id"] == str(cast.grower.pk)
    assert codes[3] not in codes_of(browser)
    client.logout()
    begin(client)
    one_error(client.post(reverse("mfa_authenticate"), {"code": codes[3]}), "Incorrect")


def test_new_recovery_codes_end_the_old_ones(cast, client_of, client):
    browser = client_of(cast.grower)
    set_up(browser)
    old = codes_of(browser)
    browser.post(reverse("mfa_generate_recovery_codes"))
    assert not set(old) & set(codes_of(browser))
    begin(client)
    one_error(client.post(reverse("mfa_authenticate"), {"code": old[0]}), "Incorrect")


def test_codes_are_looked_at_only_after_showing_who_one_is(cast, client_of):
    set_up(client_of(cast.grower))
    answer = client_of(cast.grower).get(reverse("mfa_view_recovery_codes"))
    assert answer.url.startswith(reverse("account_reauthenticate"))


def test_secrets_are_not_kept_by_the_browser(cast, client_of):
    browser = client_of(cast.grower)
    confirm(browser, reverse("mfa_activate_totp"))
    assert "no-store" in browser.get(reverse("mfa_activate_totp"))["Cache-Control"]
    set_up(browser)
    for name in ("mfa_view_recovery_codes", "mfa_download_recovery_codes"):
        assert "no-store" in browser.get(reverse(name))["Cache-Control"]


def test_an_app_is_turned_off_again(cast, client_of, client):
    browser = client_of(cast.grower)
    set_up(browser)
    browser.post(reverse("mfa_deactivate_totp"))
    assert not Authenticator.objects.exists()
    client.post("/accounts/login/", {"login": "grower", "password": PASSWORD})
    assert client.session["_auth_user_id"] == str(cast.grower.pk)


def test_guessing_codes_is_slowed_down(cast, client_of, client):
    secret = set_up(client_of(cast.grower))
    begin(client)
    for guess in range(6):
        client.post(reverse("mfa_authenticate"), {"code": f"{guess:06}"})
    right = {"code": code_at(secret, time.time())}
    client.post(reverse("mfa_authenticate"), right)
    assert "_auth_user_id" not in client.session


def test_a_one_time_link_does_not_get_past_the_second_step(cast, client_of, client):
    secret = set_up(client_of(cast.grower))
    link = make_signin_link(person=cast.grower).removeprefix("http://testserver")
    assert client.post(link).url == reverse("mfa_authenticate")
    assert "_auth_user_id" not in client.session
    client.post(reverse("mfa_authenticate"), {"code": code_at(secret, time.time())})
    assert client.session["_auth_user_id"] == str(cast.grower.pk)


def test_whoever_runs_the_server_helps_who_lost_everything(
    cast, client_of, client, capsys
):
    set_up(client_of(cast.grower))
    set_up(client_of(cast.owner))
    call_command("signin_link", "grower", "--drop-second-step")
    link = capsys.readouterr().out.strip().removeprefix("http://testserver")
    assert client.post(link).url == "/"
    assert client.session["_auth_user_id"] == str(cast.grower.pk)
    left = Authenticator.objects.values_list("user", flat=True)
    assert set(left) == {cast.owner.pk}


def test_the_picture_to_scan_is_black_on_white_and_holds_the_secret(cast, client_of):
    browser = client_of(cast.grower)
    url = reverse("mfa_activate_totp")
    confirm(browser, url)
    page = page_of(browser.get(url))
    source = page.xpath("//img/@src")[0]
    assert source.startswith("data:image/svg+xml;base64,")
    drawing = etree.parse(BytesIO(base64.b64decode(source.split(",")[1]))).getroot()
    assert drawing.tag == "{http://www.w3.org/2000/svg}svg"
    assert {"#fff", "#000"} <= set(drawing.xpath("//@fill | //@stroke"))
    assert not drawing.xpath("//@style")


def test_the_secret_is_handed_to_the_app_with_our_name(cast, rf):
    url = SecondStepAdapter().build_totp_url(cast.grower, SEED)
    values = parse_qs(urlsplit(url).query)
    assert values == {"secret": [SEED], "issuer": ["Orchard care"]}


@pytest.mark.parametrize("name", ["🌳" * 10_000, "", "My phone"])
def test_any_name_of_a_passkey_fits(cast, name):
    form = AddPasskeyForm(user=cast.grower, data={"name": name, "credential": "{}"})
    form.full_clean()
    kept = form.cleaned_data["name"]
    assert kept == (name[:LONGEST_NAME] or "Passkey 1")
    assert form.fields["passwordless"].initial is True


BYTES = st.binary(max_size=80).map(
    lambda raw: base64.urlsafe_b64encode(raw).rstrip(b"=").decode()
)
PLAIN = st.none() | st.booleans() | st.integers() | st.text(max_size=20) | BYTES
PARTS = st.sampled_from(
    [
        "clientDataJSON",
        "attestationObject",
        "authenticatorData",
        "signature",
        "userHandle",
    ]
)
CLIENT_DATA = base64.urlsafe_b64encode(
    b'{"type": "webauthn.get", "challenge": "AA", "origin": "http://localhost"}'
).decode()
LIKELY = st.fixed_dictionaries(
    {
        "id": st.just("AAAA"),
        "rawId": st.just("AAAA"),
        "type": st.just("public-key"),
        "clientExtensionResults": st.just({}),
        "response": st.dictionaries(PARTS, BYTES, max_size=5).map(
            lambda parts: {"clientDataJSON": CLIENT_DATA} | parts
        ),
    }
)
ANYTHING = LIKELY | st.recursive(
    PLAIN,
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["id", "rawId", "response", "type"]), inner)
    ),
    max_leaves=6,
)


def put(browser, url, credential):
    cache.clear()
    typed = {"name": "Key", "credential": json.dumps(credential)}
    return browser.post(url, typed, HTTP_HOST="localhost")


@given(ANYTHING)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_nothing_a_stranger_sends_as_a_passkey_breaks_the_door(db, client, sent):
    client.get(reverse("mfa_login_webauthn"), headers={"accept": "application/json"})
    answer = put(client, reverse("mfa_login_webauthn"), sent)
    assert answer.url == "/accounts/login/"
    assert "_auth_user_id" not in client.session


def test_no_nonsense_becomes_a_passkey(cast, client_of):
    browser = client_of(cast.grower)
    url = reverse("mfa_add_webauthn")
    confirm(browser, url)

    # The library looks only at what counts as true.
    @example(sent=False)
    @example(sent=0)
    @given(ANYTHING)
    def no_nonsense(sent):
        answer = put(browser, url, sent)
        assert answer.status_code == 200
        assert html.fromstring(answer.content).xpath("//*[@class='errors']")
        assert not Authenticator.objects.exists()

    no_nonsense()


def test_the_page_of_oneself_tells_what_is_set_up(cast, client_of):
    browser = client_of(cast.grower)
    before = text_of(page_of(browser.get("/you/")))
    assert "No passkey, no app, no recovery codes" in before
    set_up(browser)
    after = text_of(page_of(browser.get("/you/")))
    assert "No passkey, the app is on, recovery codes are made" in after
