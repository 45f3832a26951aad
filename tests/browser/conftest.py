"""A real browser of phone size against a real server on the demonstration."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import date

import pytest
from django.db import connection
from django.utils import timezone
from playwright.sync_api import Browser, Page, expect, sync_playwright

from deploy.demo.load import load_demo
from orchard.actions.people import make_signin_link
from orchard.models import Person
from tests.browser.chromium import ARGUMENTS, CHROMIUM
from tests.browser.line import Line
from tests.browser.phone_steps import PATIENT_MS, OpenPhone, open_phone
from tests.turns import open_server

# A dry July morning: pots and young trees want water.
REAL_DAY = date(2014, 7, 14)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    if CHROMIUM is None:
        pytest.skip("Chromium is not installed: the browser tests did not run")
    # Playwright's loop runs in this thread; the fixtures' queries are not async.
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    with sync_playwright() as driver:
        expect.set_options(timeout=PATIENT_MS)
        one = driver.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield one
        one.close()


@pytest.fixture(scope="session")
def first_loading() -> Iterator[sqlite3.Connection]:
    """Where the demonstration is kept as it was first loaded; empty until then."""
    with closing(sqlite3.connect(":memory:", check_same_thread=False)) as kept:
        yield kept


@pytest.fixture(autouse=True)
def answering(transactional_db: None) -> Iterator[None]:
    """Answer no request any more once the database is being emptied."""
    with open_server():
        yield


@pytest.fixture
def demo(answering: None, first_loading: sqlite3.Connection) -> Person:
    """The demonstration as it stands after three days, copied where it was made."""
    connection.ensure_connection()
    database: sqlite3.Connection = connection.connection
    if first_loading.execute("select count(*) from sqlite_master").fetchone()[0]:
        first_loading.backup(database)
    else:
        load_demo(REAL_DAY, timezone.now(), lived_days=3)
        database.backup(first_loading)
    return Person.objects.get(username="marta")


@pytest.fixture
def page(browser: Browser, live_server, demo: Person, settings) -> Iterator[Page]:
    """A signed-in phone; any error on its console fails the test."""
    settings.BASE_URL = live_server.url
    context = browser.new_context(
        viewport={"width": 390, "height": 844},
        has_touch=True,
        is_mobile=True,
        # It asks for pages beside the test's own; a database in memory serves one.
        service_workers="block",
    )
    one = context.new_page()
    complaints: list[str] = []
    one.on(
        "console",
        lambda message: (
            complaints.append(message.text) if message.type == "error" else None
        ),
    )
    one.on("pageerror", lambda error: complaints.append(str(error)))
    one.goto(make_signin_link(person=demo))
    one.get_by_role("button").first.click()
    one.wait_for_url("**/s/alder-row/")
    yield one
    context.close()
    assert complaints == []


@pytest.fixture
def line(live_server, demo: Person, settings) -> Iterator[Line]:
    """A line that is cut before the database is emptied: nothing comes after that."""
    one = Line(live_server.url)
    settings.BASE_URL = one.url
    yield one
    one.cut()


@pytest.fixture
def phones(browser: Browser, line: Line, demo: Person) -> Iterator[OpenPhone]:
    """Open phones, each a browser of its own; an error of a script fails the test."""
    opened: list[Page] = []
    errors: list[str] = []

    def one_more(person: Person) -> Page:
        page = open_phone(browser, line, person)
        page.on("pageerror", lambda error: errors.append(str(error)))
        opened.append(page)
        return page

    yield one_more
    for page in opened:
        page.context.close()
    assert errors == []


@pytest.fixture
def phone(phones: OpenPhone, demo: Person) -> Page:
    return phones(demo)
