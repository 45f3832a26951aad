import pytest
from django.urls import reverse

from orchard.actions.people import choose_units
from orchard.models import Block, Site, Tree
from tests.orchard.plain_page import one_error, page_of, text_of

LIST = """Name, Species, Where, Planted
Old Tom, apple, ground, 1998
Lemon 1, lemon, pot 60 L, 2024-03
Fig, fig, ground, unknown"""


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.coordinator)


@pytest.fixture
def url(site):
    return reverse("trees_paste", args=[site.slug])


def look(browser, url, text=LIST, **more):
    page = page_of(browser.post(url, {"pasted": text, **more}))
    seen = page.xpath("//input[@name='seen']/@value")
    return page, seen[0] if seen else ""


def test_looking_enters_nothing(browser, url):
    page, _ = look(browser, url)
    assert "Enter 3 trees" in text_of(page)
    assert "Pot, 60 L" in text_of(page)
    assert page.xpath("string(//textarea)").strip().replace("\r\n", "\n") == LIST
    assert not Tree.objects.exists()


def test_a_tree_still_to_be_planted_is_shown_as_one(browser, url):
    page, _ = look(browser, url, "Pip, apple, ground, 2026-03-14")
    assert "To be planted on 14 Mar 2026" in text_of(page)


def test_what_was_looked_at_is_entered(browser, url, site):
    before = Site.objects.get(pk=site.pk).revision
    _, seen = look(browser, url)
    answer = browser.post(
        url, {"pasted": LIST, "block_name": "Patio", "seen": seen, "enter": "1"}
    )
    assert answer.url == reverse("trees", args=[site.slug])
    trees = list(Tree.objects.order_by("position"))
    assert [tree.name for tree in trees] == ["Old Tom", "Lemon 1", "Fig"]
    assert {tree.block.name for tree in trees} == {"Patio"}
    assert trees[1].container_litres == 60.0
    assert trees[2].planted_on is None
    assert Site.objects.get(pk=site.pk).revision == before + 1


def test_a_text_that_was_changed_since_is_shown_again(browser, url):
    _, seen = look(browser, url)
    changed = LIST.replace("60 L", "6 L")
    answer = browser.post(url, {"pasted": changed, "seen": seen, "enter": "1"})
    assert "Pot, 6 L" in text_of(page_of(answer))
    assert not Tree.objects.exists()


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("Pip, aple, ground, 2020", "Line 3, species: “aple” is not"),
        ("Pip, apple, ground, 2031", "Line 3, planted: 2031 is too far ahead"),
        ("Pip, apple, pot 0 L, 2020", "Line 3, place: a pot of 0 L holds no tree"),
        ("Pip, apple, pot, 2020", "Line 3, place: the pot's size is missing"),
        ("Pip", "Line 3: has 1 parts"),
        ("Good, apple, ground, 2020", "Line 3, name: “Good” is on line 2"),
    ],
)
def test_one_bad_line_stops_the_whole_list(browser, url, line, words):
    text = f"\nGood, apple, ground, 2020\n{line}"
    _, seen = look(browser, url, text)
    answer = browser.post(
        url, {"pasted": text, "seen": seen, "enter": "1", "block_name": "New"}
    )
    one_error(answer, words)
    assert "Nothing is entered yet" in text_of(page_of(answer))
    assert line in answer.content.decode()
    assert not Tree.objects.exists()
    assert not Block.objects.filter(name="New").exists()


@pytest.mark.parametrize(
    ("text", "words"), [("", "at least one line"), ("   \n  ", "The list is empty")]
)
def test_an_empty_list_is_refused(browser, url, text, words):
    one_error(browser.post(url, {"pasted": text}), words)


def test_a_list_longer_than_any_orchard_is_refused(browser, url):
    one_error(browser.post(url, {"pasted": "x" * 200_001}), "at most 200000")
    page, _ = look(browser, url, "a,apple,ground,2020\n" * 2001)
    assert "at most 2000 trees" in text_of(page)


def test_pot_sizes_are_in_the_readers_units(browser, cast, url):
    choose_units(person=cast.coordinator, units="us")
    page, _ = look(browser, url, "Lemon, lemon, pot 15, 2024")
    assert "Pot, 15 gal" in text_of(page)


def test_more_than_any_form_holds_is_answered_in_words(browser, url):
    answer = browser.post(url, {"pasted": "x" * 7_000_000})
    assert answer.status_code == 400
    assert "Nothing was changed" in text_of(page_of(answer))
