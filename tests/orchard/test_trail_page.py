import ast
import csv
import io
import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from hypothesis import given, strategies as st

import care.actions
import orchard.actions
from care.actions.place_changes import Why
from orchard.actions.audit import changed, note
from orchard.actions.members import remove_member
from orchard.models import AuditEntry, Membership
from orchard.views.trail import unformula
from orchard.views.trail_words import WHAT_WORDS, field_words, what_words
from tests.orchard.plain_page import page_of, text_of

NOON = datetime(2025, 7, 2, 19, tzinfo=UTC)  # noon at the site, on the Pacific coast


@pytest.fixture
def url(site):
    return reverse("people_trail", args=[site.slug])


@pytest.fixture
def csv_url(site):
    return reverse("people_trail_csv", args=[site.slug])


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.owner)


@pytest.fixture
def told(site, cast):
    AuditEntry.objects.all().delete()

    def write(what="tree_changed", person=cast.owner, **values):
        values = {"subject": "Apple by the gate", "now": NOON, **values}
        return note(orchard=site.orchard, person=person, what=what, **values)

    return write


def lines_of(page):
    return [text_of(line) for line in page.xpath("//main//li[@class='line']")]


def rows_of(answer):
    content = b"".join(answer.streaming_content).decode()
    return list(csv.DictReader(io.StringIO(content)))


def test_a_change_is_told_with_who_when_and_from_what_to_what(browser, url, told):
    told(
        before={"crown_width_m": 2.5, "is_grafted": False, "tag": ""},
        after={"crown_width_m": 3.0, "is_grafted": True, "tag": "A1"},
    )
    (line,) = lines_of(page_of(browser.get(url)))
    assert "Changed the tree Apple by the gate" in line
    assert "crown width (m): 2.5 → 3" in line
    assert "is grafted: no → yes" in line
    assert "tag: nothing → A1" in line
    assert "owner, 2 July 2025, 12:00" in line


def test_what_was_only_before_or_only_after_is_told_as_such(browser, url, told):
    told("reading_taken_back", before={"rain_mm": 4.0}, subject="2025-07-01")
    told("weather_imported", after={"days": 31}, subject="station.csv")
    words = " ".join(lines_of(page_of(browser.get(url))))
    assert "rain (mm) was 4" in words
    assert "days: 31" in words


def test_a_stored_choice_is_shown_as_words_and_typed_text_as_it_is(browser, url, told):
    told(
        before={"soil_texture": "sandy_loam", "local_rules": "Use tap_2 only"},
        after={"soil_texture": "clay", "local_rules": ""},
    )
    (line,) = lines_of(page_of(browser.get(url)))
    assert "soil texture: sandy loam → clay" in line
    assert "local rules: Use tap_2 only → nothing" in line


def test_the_newest_comes_first_fifty_a_page(browser, url, told):
    for number in range(51):
        told(subject=f"Tree {number}", now=NOON + timedelta(minutes=number))
    page = page_of(browser.get(url))
    lines = lines_of(page)
    assert len(lines) == 50
    assert "Tree 50" in lines[0]
    older = page.xpath("//a[@rel='next']/@href")[0]
    assert [
        "Tree 0" in line for line in lines_of(page_of(browser.get(url + older)))
    ] == [True]


def test_it_is_filtered_by_who_and_by_what(browser, url, told, cast, csv_url):
    told("tree_added", subject="One")
    told("tree_added", subject="Two", person=cast.coordinator)
    told("tree_changed", subject="Three", person=cast.coordinator)
    told("site_added", subject="Four", person=None)
    who = f"id-{cast.coordinator.pk}"
    for query, subjects in (
        ({"who": who}, ["Three", "Two"]),
        ({"who": who, "what": "tree_added"}, ["Two"]),
        ({"who": "name-"}, ["Four"]),
        ({"what": "tree_added"}, ["Two", "One"]),
        ({"who": "id-9" * 30, "what": "x"}, ["Four", "Three", "Two", "One"]),
        ({"who": who, "what": "site_added"}, []),
    ):
        page = page_of(browser.get(url, query))
        assert [row["subject"] for row in rows_of(browser.get(csv_url, query))] == (
            subjects
        )
        assert len(lines_of(page)) == len(subjects)
    assert "Nothing fits" in text_of(page)


def test_who_is_gone_keeps_their_name_in_the_trail(browser, url, told, cast):
    told(subject="Pruned apple", person=cast.grower)
    cast.grower.delete()
    page = page_of(browser.get(url))
    assert "grower, 2 July" in lines_of(page)[0]
    assert page.xpath("//option[text()='grower']/@value") == ["name-grower"]


def test_what_a_command_did_is_the_servers(browser, url, told):
    told(person=None)
    assert "The server, 2 July" in lines_of(page_of(browser.get(url)))[0]


def test_another_orchards_changes_stay_theirs(browser, url, csv_url, cast, told):
    theirs = Membership.objects.get(person=cast.stranger).orchard
    note(orchard=theirs, person=cast.stranger, what="tree_added", subject="Canary")
    page = browser.get(url).content.decode()
    assert "Canary" not in page
    assert "stranger" not in page  # nor does their name stand among those to choose
    assert rows_of(browser.get(csv_url)) == []


def test_an_empty_trail_says_so_and_points_to_the_log(browser, url, told, site):
    page = page_of(browser.get(url))
    assert "Nobody has changed anything yet" in text_of(page)
    assert page.xpath(f"//main//a[@href='{reverse('log', args=[site.slug])}']")


def test_a_longer_trail_costs_no_more_questions(
    browser, url, told, django_assert_num_queries
):
    told()
    browser.get(url)
    with CaptureQueriesContext(connection) as counted:
        browser.get(url)
    for number in range(49):
        told(subject=str(number))
    with django_assert_num_queries(len(counted)):
        browser.get(url)


def test_the_file_holds_the_same_exactly(browser, csv_url, told):
    told(
        subject='Quitte "alt"; süß, 梨',
        before={"crown_width_m": 2.5},
        after={"crown_width_m": 1 / 3, "rows": [1, None, True]},
    )
    answer = browser.get(csv_url)
    assert answer.headers["Content-Type"] == "text/csv; charset=utf-8"
    assert 'filename="trail.csv"' in answer.headers["Content-Disposition"]
    assert answer.streaming
    (row,) = rows_of(answer)
    assert row["at_utc"] == "2025-07-02T19:00:00+00:00"
    assert row["person"] == "owner"
    assert row["subject"] == 'Quitte "alt"; süß, 梨'
    assert json.loads(row["before_json"]) == {"crown_width_m": 2.5}
    assert json.loads(row["after_json"]) == {
        "crown_width_m": 1 / 3,
        "rows": [1, None, True],
    }


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\0"])
def test_no_cell_of_the_file_is_a_formula(browser, csv_url, told, start):
    """OWASP ASVS 5.0, 1.2.10: quote cells that begin with = + - @, tab or NUL."""
    assert unformula(f"{start}1+1") == f"'{start}1+1"
    if start != "\0":  # PostgreSQL stores none
        told(subject=f"{start}HYPERLINK(1)")
        (row,) = rows_of(browser.get(csv_url))
        assert row["subject"] == f"'{start}HYPERLINK(1)"


@given(st.text())
def test_any_cell_is_kept_but_for_the_guard(cell):
    guarded = unformula(cell)
    assert guarded.removeprefix("'" if guarded != cell else "") == cell
    assert not guarded.startswith(("=", "+", "-", "@", "\t", "\r", "\0"))


def whats_noted():
    """Return every ``what`` that the source of an action writes."""
    folders = [Path(each.__file__).parent for each in (orchard.actions, care.actions)]
    for path in (path for folder in folders for path in folder.glob("*.py")):
        for call in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(call, ast.Call):
                yield from _what_of(call)
    # Written in one place for whatever changed hands.
    yield from (f"place_{why}" for why in Why)


def _what_of(call):
    name = getattr(call.func, "id", "")
    if name in ("note", "note_in_trail"):
        given_what = [each.value for each in call.keywords if each.arg == "what"]
        yield from (v.value for each in given_what for v in _either(each))
    if name in ("_note", "_end", "_told"):
        values = [*call.args, *(each.value for each in call.keywords)]
        yield from (
            v.value
            for v in values
            if isinstance(v, ast.Constant) and "_" in str(v.value)
        )


def _either(value):
    """Return the constants a value may be: itself, or both ends of a choice."""
    ends = [value.body, value.orelse] if isinstance(value, ast.IfExp) else [value]
    return [end for end in ends if isinstance(end, ast.Constant)]


def test_everything_noted_has_its_words_and_no_words_stand_idle():
    assert set(whats_noted()) == set(WHAT_WORDS)


def test_a_kind_without_words_shows_its_name_at_least():
    assert what_words("gate_painted") == "Gate painted:"


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("crown_width_m", "crown width (m)"),
        ("rain_mm", "rain (mm)"),
        ("feed_density_g_per_ml", "feed density (g/mL)"),
        ("local_rules", "local rules"),
        ("soil_ph", "soil ph"),
    ],
)
def test_a_fields_unit_stands_behind_its_name(name, words):
    assert field_words(name) == words


def test_days_and_rows_become_text_and_only_changes_are_kept(site, cast, told):
    block = site.blocks.get()
    was, became = changed(
        {"block": None, "planted_on": None, "name": "Fig"},
        {"block": block, "planted_on": NOON.date(), "name": "Fig"},
    )
    entry = told(before=was, after=became)
    entry.refresh_from_db()
    assert entry.before == {"block": None, "planted_on": None}
    assert entry.after == {"block": "Long row", "planted_on": "2025-07-02"}


def test_a_removal_stands_in_the_trail_of_those_who_stay(browser, url, cast, site):
    by = Membership.objects.get(person=cast.owner)
    gone = Membership.objects.get(person=cast.viewer)
    remove_member(by=by, member_id=gone.pk, now=NOON)
    (line,) = (
        each for each in lines_of(page_of(browser.get(url))) if "Took out" in each
    )
    assert "Took out of the orchard: viewer" in line
    assert "role was viewer" in line
