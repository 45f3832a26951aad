"""Signing in at the host's own OpenID Connect server, against a small real one."""

import json
import threading
import time
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import parse_qs, urlsplit

import jwt
import pytest
from allauth.account.models import EmailAddress
from django.core.cache import cache
from django.utils import timezone

from orchard.actions.invites import make_invite
from orchard.actions.people import has_accounts
from orchard.models import Person, Role
from tests.orchard.plain_page import page_of, text_of

START = "/accounts/oidc/server/login/"
CLIENT = "orchard-care"


class SignInServer(ThreadingHTTPServer):
    """Answers as OpenID Connect Discovery 1.0 and Core 1.0 (3.1.3, 5.3) say."""

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), Answers)
        self.address = f"http://127.0.0.1:{self.server_port}"
        self.person: dict[str, object] = {}
        self.asked: dict[str, list[str]] = {}


class Answers(BaseHTTPRequestHandler):
    server: SignInServer

    def _send(self, values: dict[str, object]) -> None:
        self.send_response(200)
        self.send_header("Content-Type", "application/json")
        self.end_headers()
        self.wfile.write(json.dumps(values).encode())

    def do_GET(self) -> None:
        if self.path == "/people":
            return self._send(self.server.person)
        base = self.server.address
        return self._send(
            {
                "issuer": base,
                "authorization_endpoint": f"{base}/ask",
                "token_endpoint": f"{base}/token",
                "userinfo_endpoint": f"{base}/people",
                "jwks_uri": f"{base}/keys",
                "token_endpoint_auth_methods_supported": ["client_secret_post"],
            }
        )

    def do_POST(self) -> None:
        length = int(self.headers["Content-Length"])
        self.server.asked = parse_qs(self.rfile.read(length).decode())
        claims = {
            "iss": self.server.address,
            "aud": CLIENT,
            "iat": int(time.time()),
            "exp": int(time.time()) + 60,
            **self.server.person,
        }
        token = jwt.encode(claims, "k" * 32, algorithm="HS256")
        self._send({"access_token": "a", "token_type": "Bearer", "id_token": token})

    def log_message(self, *words: object) -> None:
        del words


@pytest.fixture(autouse=True)
def fresh_limits():
    cache.clear()


@pytest.fixture
def server(settings):
    one = SignInServer()
    one.person = {
        "sub": "17",
        "preferred_username": "anna",
        "name": "Anna Plum",
        "email": "anna@example.org",
        "email_verified": True,
    }
    threading.Thread(target=one.serve_forever, daemon=True).start()
    app = {
        "provider_id": "server",
        "name": "Garden club",
        "client_id": CLIENT,
        "secret": "s",
        "settings": {"server_url": one.address},
    }
    settings.SOCIALACCOUNT_PROVIDERS = {
        "openid_connect": {"OAUTH_PKCE_ENABLED": True, "APPS": [app]}
    }
    settings.SIGN_IN_SERVER_NAME = "Garden club"
    yield one
    one.shutdown()
    one.server_close()


def come_back(client, start=START):
    """Press the button, and return from the server as a browser would."""
    leave = client.post(start)
    assert leave.status_code == 302
    asked = parse_qs(urlsplit(leave.url).query)
    assert asked["code_challenge_method"] == ["S256"]
    return client.get(
        f"{START}callback/", {"code": "c", "state": asked["state"][0]}, follow=True
    )


def who(client):
    found = client.session.get("_auth_user_id")
    return Person.objects.get(pk=found).username if found else None


def test_the_door_leads_to_the_server_by_a_button(cast, client, server):
    page = page_of(client.get("/accounts/login/"))
    assert "Sign in with Garden club" in text_of(page)
    assert page.xpath(f"//form[starts-with(@action, '{START}')]/@method") == ["post"]


def test_without_a_server_there_is_no_such_button(cast, client):
    assert "Sign in with" not in text_of(page_of(client.get("/accounts/login/")))


def test_the_first_person_comes_in_and_closes_the_door(db, client, server):
    come_back(client)
    assert who(client) == "anna"
    assert Person.objects.get().first_name == "Anna"
    assert server.asked["client_secret"] == ["s"]
    assert server.asked["code_verifier"]
    assert has_accounts()


def test_who_comes_again_is_the_same_person(db, client, server):
    for _ in range(2):
        come_back(client)
        client.logout()
    assert Person.objects.count() == 1


@pytest.mark.parametrize("signup", ["invite", "closed"])
def test_a_newcomer_needs_what_every_newcomer_needs(
    cast, client, server, settings, signup
):
    settings.SIGNUP = signup
    page = page_of(come_back(client))
    assert "need an invitation" in text_of(page)
    assert who(client) is None
    assert not Person.objects.filter(username="anna").exists()


def test_an_invited_newcomer_comes_in_with_it(cast, client, server):
    inviter = cast.owner.memberships.get()
    _, token = make_invite(
        membership=inviter, role=Role.GROWER, note="Anna", now=timezone.now()
    )
    client.get(f"/join/{token}/")
    come_back(client)
    assert who(client) == "anna"


def test_an_open_server_takes_a_newcomer(cast, client, server, settings):
    settings.SIGNUP = "open"
    come_back(client)
    assert who(client) == "anna"


def test_an_email_of_ours_written_over_there_opens_no_account(
    cast, client, server, settings
):
    settings.SIGNUP = "open"
    EmailAddress.objects.create(
        user=cast.owner, email="anna@example.org", primary=True, verified=True
    )
    page = page_of(come_back(client))
    assert who(client) is None
    assert "Choose what you are called here" in text_of(page)


def test_a_member_connects_and_then_signs_in_with_it(cast, client, client_of, server):
    browser = client_of(cast.grower)
    page = page_of(come_back(browser, f"{START}?process=connect"))
    assert "You may sign in here with" in text_of(page)
    come_back(client)
    assert who(client) == "grower"


def test_a_made_up_return_is_refused(cast, client, server):
    answer = client.get(f"{START}callback/", {"code": "c", "state": "made up"})
    assert "did not let you in" in text_of(page_of(answer))
    assert who(client) is None


def test_a_token_meant_for_another_program_is_refused(cast, client, server, settings):
    settings.SIGNUP = "open"
    server.person["aud"] = "another-program"
    page = page_of(come_back(client))
    assert "did not let you in" in text_of(page)
    assert who(client) is None
