"""Rootstock, flowers and hedges in a tree's form, and which cultivars it offers."""

import pytest
from django.urls import reverse

from orchard.models import AuditEntry, Clump, Tree
from tests.orchard.plain_page import page_of

THREE = {"species": "apple", "grows_in": "ground", "planted": "2024-03-15"}
HEDGE = {"clump_name": "Long hedge", "clump_is_hedge": "on"}
LOW = {**HEDGE, "clump_height_limit_m": "1.8"}


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.owner)


@pytest.fixture
def url(site):
    return reverse("tree_add", args=[site.slug])


def edit_url(tree):
    return reverse("tree_edit", args=[tree.site.slug, tree.public_id])


def offered(answer):
    return page_of(answer).xpath("//datalist[@id='cultivars']/option/@value")


def test_a_rootstock_flowers_and_a_hedge_are_kept(browser, url):
    browser.post(url, {**THREE, **LOW, "rootstock": "M.9", "sex": "both"})
    tree = Tree.objects.get()
    assert (tree.rootstock, tree.sex) == ("M.9", "both")
    assert (tree.clump.is_hedge, tree.clump.height_limit_m) == (True, 1.8)
    shown = page_of(browser.get(edit_url(tree)))
    assert shown.xpath("//input[@name='rootstock']/@value") == ["M.9"]
    assert shown.xpath("//input[@name='clump_is_hedge'][@checked]")
    assert shown.xpath("//input[@name='clump_height_limit_m']/@value") == ["1.8"]


def test_a_hedge_is_declared_once_for_all_its_trees(browser, url):
    browser.post(url, {**THREE, **LOW})
    browser.post(url, {**THREE, "clump_name": "Long hedge"})  # says nothing of it
    assert Clump.objects.get().height_limit_m == 1.8
    tree = Tree.objects.first()
    browser.post(edit_url(tree), {**THREE, "name": tree.name, **HEDGE})
    clump = Clump.objects.get()
    assert (clump.is_hedge, clump.height_limit_m) == (True, None)
    noted = AuditEntry.objects.filter(what="clump_changed")
    assert [entry.before for entry in noted] == [
        {"height_limit_m": 1.8},
        {"height_limit_m": None, "is_hedge": False},
    ]


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"clump_is_hedge": "on"}, "Which hedge or hole is that?"),
        ({"clump_height_limit_m": "2"}, "Which hedge or hole is that?"),
        ({**HEDGE, "clump_height_limit_m": "-2"}, "cannot be right"),
        ({**HEDGE, "clump_height_limit_m": "90"}, "cannot be right"),
        ({"rootstock": "M" * 41}, "at most 40 characters"),
        ({"sex": "neither"}, "Select a valid choice"),
    ],
)
def test_a_mistake_is_named_at_its_box_and_nothing_is_saved(browser, url, typed, words):
    answer = browser.post(url, {**THREE, "cultivar": "Gala", **typed})
    page = page_of(answer)
    assert any(
        words in text for text in page.xpath("//p[@class='field__error']/text()")
    )
    assert page.xpath("//input[@name='cultivar']/@value") == ["Gala"]
    assert not Tree.objects.exists()
    assert not Clump.objects.exists()


def test_cultivars_of_its_own_kind_are_offered(browser, url, make_tree):
    every = offered(browser.get(url))
    own = offered(browser.get(edit_url(make_tree())))
    assert own
    assert set(own) < set(every)
