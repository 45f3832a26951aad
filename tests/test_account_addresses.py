"""Every address of the account library: what it answers, and whose things it shows.

They act on the person who asks. Where an address names a thing (a passkey), another
person's is not found.
"""

import pytest
from allauth.account.internal.flows.login import record_authentication
from allauth.mfa.models import Authenticator
from django.core.cache import cache
from django.test import RequestFactory
from django.urls import get_resolver, reverse

from tests.test_every_address import LIBRARY, names

LOGIN, CONFIRM, ELSEWHERE = "sign in", "show that it is you", "elsewhere"
OUT, IN = "/accounts/login/", "/accounts/reauthenticate/"

# name: what (nobody, a member) gets when reading, what each gets when sending nothing.
TABLE: dict[str, tuple[object, object, object, object]] = {
    "account_change_password": (LOGIN, 200, LOGIN, 200),
    "account_confirm_email": (200, 200, 404, 404),
    "account_confirm_login_code": (LOGIN, ELSEWHERE, LOGIN, ELSEWHERE),
    "account_email": (LOGIN, 200, LOGIN, ELSEWHERE),
    "account_email_verification_sent": (200, 200, 405, 405),
    "account_inactive": (200, 200, 405, 405),
    "account_login": (200, ELSEWHERE, 200, ELSEWHERE),
    "account_logout": (LOGIN, 200, LOGIN, LOGIN),
    "account_reauthenticate": (LOGIN, 200, LOGIN, 200),
    "account_reset_password": (200, 200, 200, 200),
    "account_reset_password_done": (200, 200, 405, 405),
    "account_reset_password_from_key": (200, 200, 200, 200),
    "account_reset_password_from_key_done": (200, 200, 405, 405),
    "account_set_password": (LOGIN, ELSEWHERE, LOGIN, ELSEWHERE),
    "account_signup": (200, ELSEWHERE, 200, ELSEWHERE),
    "mfa_activate_totp": (LOGIN, CONFIRM, LOGIN, CONFIRM),
    "mfa_add_webauthn": (LOGIN, CONFIRM, LOGIN, CONFIRM),
    "mfa_authenticate": (LOGIN, ELSEWHERE, LOGIN, ELSEWHERE),
    "mfa_deactivate_totp": (LOGIN, 404, LOGIN, 404),
    "mfa_download_recovery_codes": (LOGIN, 404, LOGIN, 404),
    "mfa_edit_webauthn": (LOGIN, CONFIRM, LOGIN, CONFIRM),
    "mfa_generate_recovery_codes": (LOGIN, CONFIRM, LOGIN, CONFIRM),
    "mfa_index": (LOGIN, 200, LOGIN, 405),
    "mfa_list_webauthn": (LOGIN, 200, LOGIN, 405),
    "mfa_login_webauthn": (LOGIN, ELSEWHERE, LOGIN, ELSEWHERE),
    "mfa_reauthenticate": (LOGIN, CONFIRM, LOGIN, CONFIRM),
    "mfa_reauthenticate_webauthn": (LOGIN, CONFIRM, LOGIN, CONFIRM),
    "mfa_remove_webauthn": (LOGIN, CONFIRM, LOGIN, CONFIRM),
    "mfa_view_recovery_codes": (LOGIN, 404, LOGIN, 405),
    # No sign-in server is set here.
    "openid_connect_callback": (404, 404, 404, 404),
    "openid_connect_login": (404, 404, 404, 404),
    "socialaccount_connections": (LOGIN, 200, LOGIN, 200),
    "socialaccount_login_cancelled": (200, 200, 405, 405),
    "socialaccount_login_error": (401, 401, 405, 405),
    "socialaccount_signup": (LOGIN, LOGIN, LOGIN, LOGIN),
    "usersessions_list": (LOGIN, 200, LOGIN, ELSEWHERE),
}
NAMED = {"pk": 1, "provider_id": "server", "uidb36": "1", "key": "a-b"}


@pytest.fixture(autouse=True)
def fresh_limits():
    cache.clear()


def address(name):
    ways = get_resolver().reverse_dict[name]
    return reverse(name, kwargs={key: NAMED[key] for key in ways[0][0][1]})


def what(answer):
    if answer.status_code != 302:
        return answer.status_code
    to = answer.headers["Location"]
    if to.startswith(OUT):
        return LOGIN
    return CONFIRM if to.startswith(IN) else ELSEWHERE


def test_every_address_of_the_library_is_listed():
    found = {
        name for name in names(get_resolver().url_patterns) if name.startswith(LIBRARY)
    }
    assert found == set(TABLE)


@pytest.mark.parametrize("name", sorted(TABLE))
def test_each_gets_what_the_table_says(name, cast, client, client_of):
    path, member = address(name), client_of(cast.grower)
    got = [what(browser.get(path)) for browser in (client, member)]
    got += [what(browser.post(path)) for browser in (client, member)]
    assert tuple(got) == TABLE[name]


def confirmed(browser, person):
    """The same browser, after its person has just shown who they are."""
    request = RequestFactory().get("/")
    request.session = browser.session
    record_authentication(request, person, method="password", reauthenticated=True)
    request.session.save()
    return browser


@pytest.mark.parametrize("name", ["mfa_edit_webauthn", "mfa_remove_webauthn"])
def test_another_persons_passkey_is_not_found(name, cast, client_of):
    theirs = Authenticator.objects.create(
        user=cast.owner, type="webauthn", data={"name": "Key", "credential": {}}
    )
    browser = confirmed(client_of(cast.grower), cast.grower)
    path = reverse(name, args=[theirs.pk])
    assert browser.get(path).status_code == 404
    assert browser.post(path, {"name": "Mine"}).status_code == 404
    theirs.refresh_from_db()
    assert theirs.data["name"] == "Key"


def test_nobody_sees_another_persons_passkeys_or_sessions(cast, client_of):
    Authenticator.objects.create(
        user=cast.owner, type="webauthn", data={"name": "Ring", "credential": {}}
    )
    for name in ("mfa_list_webauthn", "mfa_index", "usersessions_list"):
        answer = client_of(cast.grower).get(reverse(name))
        assert "Ring" not in answer.content.decode()
