"""What a phone is given to keep the program: name, icons, worker, pages of its own."""

import gzip
import json
import re
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.test import Client
from PIL import Image

from orchard.views.phone import NEEDED, person_mark, waiting_words, words
from tests.orchard.plain_page import page_of, text_of

# W3C Web Application Manifest, "safe zone": a circle of 40 % round the middle.
SAFE_SHARE = 0.4
OF_EVERY_PAGE = ("site", "outbox", "keep", "phone")
OF_SOME = ("passkeys", "position")


def told(answer):
    """Return what the worker is told, and which script it runs."""
    found = re.fullmatch(
        r'self\.TOLD = (\{.*\});\nimportScripts\("(.*)"\);\n', answer.content.decode()
    )
    return json.loads(found[1]), found[2]


def opened(address):
    """Return a static file as its address names it."""
    return finders.find(address.removeprefix("/static/"))


@pytest.mark.django_db
def test_the_manifest_names_icons_that_are_there_and_as_large_as_said():
    answer = Client().get("/manifest.webmanifest")
    assert answer.headers["Content-Type"] == "application/manifest+json"
    kept = answer.json()
    assert (kept["start_url"], kept["scope"], kept["display"]) == (
        "/",
        "/",
        "standalone",
    )
    sizes = {}
    for icon in kept["icons"]:
        with Image.open(opened(icon["src"])) as picture:
            assert picture.format == "PNG"
            sizes[icon["sizes"], icon["purpose"]] = picture.size
    # Installing asks for both sizes (web.dev, "Add a web app manifest").
    assert sizes == {
        ("192x192", "any"): (192, 192),
        ("512x512", "any"): (512, 512),
        ("512x512", "maskable"): (512, 512),
    }


def test_what_is_drawn_on_the_maskable_icon_lies_in_its_safe_zone():
    with Image.open(finders.find("img/icon-maskable-512.png")) as picture:
        side = picture.width
        drawn = picture.convert("L").point(lambda light: 255 if light > 128 else 0)
        corners = [picture.convert("RGB").getpixel(at) for at in [(0, 0), (511, 511)]]
        far = max(
            (x - side / 2) ** 2 + (y - side / 2) ** 2
            for y in range(side)
            for x in range(side)
            if drawn.getpixel((x, y))
        )
    assert far**0.5 <= SAFE_SHARE * side
    assert corners == [corners[0]] * 2  # its colour reaches every edge


@pytest.mark.django_db
def test_the_worker_names_all_that_pages_need_and_is_never_kept():
    answer = Client().get("/worker.js")
    assert answer.headers["Content-Type"].startswith("text/javascript")
    assert answer.headers["Service-Worker-Allowed"] == "/"
    assert "no-store" in answer.headers["Cache-Control"]
    kept, script = told(answer)
    assert len(kept["files"]) == len(NEEDED)
    assert all(opened(one) for one in [*kept["files"], kept["icon"], script])
    assert kept["pages"] == ["/offline/", "/waiting/"]
    page = page_of(Client().get("/offline/"))
    asked = {
        *page.xpath("//script/@src"),
        *page.xpath("//link[@rel='stylesheet']/@href"),
    }
    assert asked <= set(kept["files"])


@pytest.mark.django_db
def test_another_file_makes_another_worker(monkeypatch):
    before, _ = told(Client().get("/worker.js"))
    monkeypatch.setattr(
        "orchard.views.phone.staticfiles_storage.url", lambda name: f"/static/2/{name}"
    )
    after, _ = told(Client().get("/worker.js"))
    assert before["version"] != after["version"]


@pytest.mark.django_db
def test_switched_off_the_worker_takes_itself_away(settings):
    settings.PHONE_COPY = False
    _, script = told(Client().get("/worker.js"))
    assert script == "/static/js/worker_off.js"
    page = page_of(Client().get("/offline/"))
    assert page.xpath("//body/@data-worker") == [""]


@pytest.mark.django_db
@pytest.mark.parametrize("path", ["/offline/", "/waiting/"])
def test_pages_of_the_phone_itself_may_be_kept_and_name_nobody(path, cast, client_of):
    answer = client_of(cast.grower).get(path)
    assert answer.headers["Orchard-Pocket"] == "keep"
    assert cast.grower.username not in text_of(page_of(answer))


@pytest.mark.django_db
def test_phones_keep_what_is_worked_by_and_nothing_of_people(cast, client_of, site):
    client = client_of(cast.owner)
    may = {
        path: client.get(path).headers.get("Orchard-Pocket")
        for path in (
            *("/s/test-site/", "/s/test-site/trees/", "/s/test-site/log/"),
            *("/s/test-site/people/", "/s/test-site/ways-in/", "/you/"),
            *("/s/test-site/settings/", "/accounts/email/", "/s/nowhere/"),
        )
    }
    assert [path for path, said in may.items() if said == "keep"] == [
        *("/s/test-site/", "/s/test-site/trees/", "/s/test-site/log/"),
        "/s/nowhere/",  # not found: the worker keeps what came with 200 alone
    ]


@pytest.mark.django_db
def test_what_was_said_in_passing_stays_for_the_next_page(cast, client_of):
    client = client_of(cast.grower)
    client.post("/you/", {"units": "us"})
    assert "changed" not in client.get("/waiting/").content.decode()
    assert page_of(client.get("/you/")).xpath("//p[@data-passing]")


@pytest.mark.django_db
def test_pages_carry_a_mark_that_tells_people_apart_and_nothing_else(cast, client_of):
    (mark,) = page_of(client_of(cast.grower).get("/you/")).xpath("//body/@data-person")
    assert mark == person_mark(cast.grower)
    assert mark != person_mark(cast.owner)
    assert cast.grower.username not in mark
    assert page_of(Client().get("/waiting/")).xpath("//body/@data-person") == [""]


@pytest.mark.django_db
def test_signing_out_asks_the_browser_to_forget(cast, client_of):
    client = client_of(cast.grower)
    assert "Clear-Site-Data" not in client.get("/accounts/logout/").headers
    answer = client.post("/accounts/logout/")
    # W3C Clear Site Data, section 3.1: a list of quoted types.
    assert answer.headers["Clear-Site-Data"] == '"cache", "storage"'
    assert "Clear-Site-Data" not in client.post("/accounts/logout/").headers


@pytest.mark.parametrize("name", [*OF_EVERY_PAGE, "waiting", *OF_SOME])
def test_scripts_say_no_words_but_those_that_are_translated(name):
    code = script_text(name)
    used = set(re.findall(r"\bWORDS\.(\w+)", code))
    here = set(re.findall(r"\bwords\.(\w+)", code)) if name == "waiting" else set()
    assert used <= set(words())
    assert here <= set(waiting_words())
    # Words stand between quotes with a space; ours hold classes and events alone.
    assert not re.findall(r'"[A-Z][a-z]+ [a-z]+[^"]*"', code)


def script_text(name):
    return Path(finders.find(f"js/{name}.js")).read_text(encoding="utf-8")


def test_every_word_of_the_scripts_is_used():
    code = "".join(script_text(name) for name in [*OF_EVERY_PAGE, *OF_SOME])
    counted = {"waiting_one", "waiting_other", "needs_one", "needs_other"}
    by_state = {"too_large"}
    used = set(re.findall(r"\bWORDS\.(\w+)", code)) | counted | by_state
    assert used == set(words())
    here = set(re.findall(r"\bwords\.(\w+)", script_text("waiting")))
    assert here == set(waiting_words())


def test_all_scripts_of_every_page_together_are_small():
    code = "".join(script_text(name) for name in OF_EVERY_PAGE)
    assert len(gzip.compress(code.encode())) <= 8000
