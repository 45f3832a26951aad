"""The settings a host's environment leads to, in a process of their own."""

import json
import os
import subprocess
import sys

import pytest

ASK = """
import json
from deploy import settings as s
print(json.dumps({name: getattr(s, name) for name in %r}))
"""
OIDC = {
    "ORCHARD_OIDC_SERVER_URL": "https://login.example.org/realms/garden",
    "ORCHARD_OIDC_CLIENT_ID": "orchard-care",
    "ORCHARD_OIDC_CLIENT_SECRET": "s",
}


@pytest.fixture
def settings_of(tmp_path):
    def read(names, **environment):
        plain = {
            name: value
            for name, value in os.environ.items()
            if not name.startswith("ORCHARD_")
        }
        answer = subprocess.run(
            [sys.executable, "-c", ASK % (names,)],
            env={**plain, "ORCHARD_DATA": str(tmp_path), **environment},
            capture_output=True,
            text=True,
            check=False,
        )
        return json.loads(answer.stdout) if answer.returncode == 0 else answer.stderr

    return read


def test_a_bare_start_knows_no_other_server_and_sends_no_mail(settings_of):
    names = ["SIGN_IN_SERVER_NAME", "ACCOUNT_EMAIL_VERIFICATION", "_policy"]
    found = settings_of(names)
    assert found["SIGN_IN_SERVER_NAME"] == ""
    assert found["ACCOUNT_EMAIL_VERIFICATION"] == "none"
    assert found["_policy"]["form-action"] == ["'self'"]


def test_a_sign_in_server_is_one_place_more_that_a_form_may_lead_to(settings_of):
    names = ["SOCIALACCOUNT_PROVIDERS", "SIGN_IN_SERVER_NAME", "_policy"]
    found = settings_of(names, **OIDC)
    assert found["_policy"]["form-action"] == ["'self'", "https://login.example.org"]
    assert found["_policy"]["default-src"] == ["'self'"]
    assert found["SIGN_IN_SERVER_NAME"] == "login.example.org"
    (app,) = found["SOCIALACCOUNT_PROVIDERS"]["openid_connect"]["APPS"]
    assert app["provider_id"] == "login.example.org"


def test_half_a_sign_in_server_stops_the_start_and_says_how(settings_of):
    said = settings_of([], ORCHARD_OIDC_NAME="Garden club")
    assert "ORCHARD_OIDC_SERVER_URL is missing" in said
    assert "Example: https://login.example.org" in said


def test_mail_confirms_addresses_and_hides_who_has_one(settings_of):
    names = ["ACCOUNT_EMAIL_VERIFICATION", "ACCOUNT_PREVENT_ENUMERATION"]
    found = settings_of(names, ORCHARD_EMAIL_URL="smtp://mail.example.org")
    assert list(found.values()) == ["optional", True]


@pytest.mark.parametrize(
    ("base_url", "proxies"),
    [("http://192.168.1.20:8000", 0), ("https://orchard.example.org", 1)],
)
def test_limits_count_visitors_not_the_proxy(settings_of, base_url, proxies):
    names = ["ALLAUTH_TRUSTED_PROXY_COUNT"]
    found = settings_of(names, ORCHARD_BASE_URL=base_url)
    assert found["ALLAUTH_TRUSTED_PROXY_COUNT"] == proxies
