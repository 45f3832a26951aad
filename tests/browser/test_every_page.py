"""Every page a member can open: well made on a small phone, at 200 % text, on a desk.

Which pages there are comes from the tables of addresses, so that a new one is looked
at without being listed. ``SCREENSHOTS`` names a folder for pictures of each,
in both schemes and at three widths, for a person to look at; the deep run and the one
with pictures look at each page at every width and in both schemes.
"""

import os
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from django.urls import reverse
from playwright.sync_api import Page

from care.models import Round, Task
from orchard.actions.trees import add_tree
from orchard.models import Membership, Person, Site, Tree
from tests.address_table import TABLE
from tests.browser.page_check import (
    UNFOLD,
    WIDTHS,
    assert_no_fault,
    assert_well_made,
)
from tests.one_of_everything import one_of_everything
from tests.test_account_addresses import NAMED, TABLE as ACCOUNT_TABLE
from tests.test_every_address import address, parameters

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

#: Files and answers for programs, and pages that lead on to another one.
NO_PAGES = {
    *("healthz", "calendar", "people_trail_csv", "plan_geojson"),
    *("photo", "photo_small", "sendings", "worker", "manifest"),
    *("station_push_bare", "station_push", "station_push_ending"),
    # The demonstration's people have no password to confirm.
    "account_reauthenticate",
}
PARTS = 4
LARGE_TEXT = "document.documentElement.style.fontSize = '200%'"
USUAL_TEXT = "document.documentElement.style.fontSize = ''"
PICTURES = os.environ.get("SCREENSHOTS", "")
IS_DEEP = os.environ.get("HYPOTHESIS_PROFILE") == "deep" or bool(PICTURES)
WIDTHS_PX = (320, 390, 1280)


@dataclass(frozen=True, slots=True)
class Cast:
    """Whom one of everything is made for."""

    owner: Person
    viewer: Person


def tree_maker(site: Site):
    today = site.own_today
    assert today is not None

    def make(name: str, **values: object) -> Tree:
        facts: dict[str, object] = {
            "name": name,
            "species_key": "apple",
            "block": site.blocks.first(),
            **values,
        }
        return add_tree(site=site, values=facts, today=today)

    return make


def what_there_is(marta: Person) -> dict[str, object]:
    """Return what names one of everything in the demonstration."""
    site = Site.objects.get(slug="alder-row")
    viewer = Person.objects.create_user("onlooker")
    Membership.objects.create(person=viewer, orchard=site.orchard, role="viewer")
    made = one_of_everything(site, Cast(marta, viewer), tree_maker(site), "One")
    task = Task.objects.filter(site=site, status="open", kind="watering").first()
    assert task is not None
    tree = Tree.objects.get(site=site, name="Sour cherry")  # held by a spray
    round_ = Round.objects.filter(site=site, tasks__status="open").first()
    assert round_ is not None
    return {
        **made,
        "task": task.public_id,
        "tree": tree.public_id,
        "round": round_.uid,
    }


def page_addresses(named: dict[str, object]) -> list[str]:
    """Return the addresses of all pages that open for an owner."""
    ours = [
        address(name, named)
        for name, (method, gets, _) in sorted(TABLE.items())
        if method == "get" and gets["owner"] == 200 and name not in NO_PAGES
    ]
    library = [
        reverse(name)
        for name, (_, member_gets, *_) in sorted(ACCOUNT_TABLE.items())
        if member_gets == 200
        and name not in NO_PAGES
        and not set(NAMED) & set(parameters(name))
    ]
    return ours + library


def assert_fits(page: Page, where: str) -> None:
    content, screen = page.evaluate(WIDTHS)
    assert content <= screen, f"{where} scrolls sideways: {content} > {screen}"


def look_closely(page: Page, where: str) -> None:
    """Look at a page at every width and in both schemes, and keep pictures."""
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        for width in WIDTHS_PX:
            page.set_viewport_size({"width": width, "height": 844})
            assert_fits(page, f"{where} at {width}")
            assert_no_fault(page, f"{where} at {width}, {scheme}", scheme)
            if PICTURES:
                name = urlsplit(where).path.strip("/").replace("/", "_") or "home"
                picture = Path(PICTURES) / f"{width}-{scheme}" / f"{name[:80]}.png"
                page.screenshot(path=picture, full_page=True)
    page.emulate_media(color_scheme="light")
    page.set_viewport_size({"width": 320, "height": 720})


@pytest.mark.parametrize("part", range(PARTS))
def test_every_page_is_well_made(page: Page, live_server, demo: Person, part: int):
    page.set_viewport_size({"width": 320, "height": 720})
    every = page_addresses(what_there_is(demo))
    faults = []
    for path in every[part::PARTS]:
        look = partial(look_at, page, f"{live_server.url}{path}")
        try:
            look()
        except AssertionError as fault:
            faults.append(str(fault))
    assert faults == []


def look_at(page: Page, where: str) -> None:
    """Open one page with all its folds and look at it."""
    answer = page.goto(where)
    assert answer is not None
    assert answer.status == 200, where
    page.evaluate(UNFOLD)
    assert_fits(page, where)
    assert_no_fault(page, where, "light")
    page.evaluate(LARGE_TEXT)
    page.set_viewport_size({"width": 390, "height": 844})
    assert_fits(page, f"{where} at 200 % text")
    page.evaluate(USUAL_TEXT)
    if IS_DEEP:
        look_closely(page, where)
    page.set_viewport_size({"width": 320, "height": 720})


# Held by a spray; still to be planted; with every box that is offered; its settings.
OTHER_TREES = [
    ("Sour cherry", ""),
    ("Mulberry to come", ""),
    ("Lemon", ""),
    ("New peach", "edit/"),
]
TASKS = [
    {"kind": "watering"},
    {"kind": "feeding"},
    {"kind": "mulching"},
    {"tree__name": "Mulberry to come"},
]
IN_THE_DARK = ("", "trees/", "log/", "weather/", "season/", "plan/", "settings/")


def task_address(**which: object) -> str:
    tasks = Task.objects.filter(site__slug="alder-row", status="open", **which)
    return f"tasks/{tasks.earliest('due', 'id').public_id}/"


def test_pages_in_other_states_are_well_made(page: Page, live_server, demo: Person):
    page.set_viewport_size({"width": 320, "height": 720})
    trees = [
        f"trees/{Tree.objects.get(site__slug='alder-row', name=name).public_id}/{more}"
        for name, more in OTHER_TREES
    ]
    tasks = [task_address(**which) for which in TASKS]
    workings = [f"{task}working/" for task in tasks[:3]]
    for path in (*trees, *tasks, *workings):
        look_at(page, f"{live_server.url}/s/alder-row/{path}")


def test_pages_are_readable_in_the_dark(page: Page, live_server, demo: Person):
    page.emulate_media(color_scheme="dark")
    for path in (*IN_THE_DARK, task_address(kind="watering")):
        assert_well_made(page, f"{live_server.url}/s/alder-row/{path}", "dark")
