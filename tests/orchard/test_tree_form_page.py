from datetime import date

import pytest
from django.db import IntegrityError
from django.urls import reverse

from orchard.actions.people import choose_units
from orchard.models import Block, Site, Tree
from tests.conftest import TODAY
from tests.orchard.plain_page import one_error, page_of, text_of

THREE = {"species": "apple", "grows_in": "ground", "planted": "2024-03-15"}
POT = {**THREE, "species": "lemon", "grows_in": "pot", "container_litres": "60"}


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.owner)


@pytest.fixture
def url(site):
    return reverse("tree_add", args=[site.slug])


def edit_url(tree):
    return reverse("tree_edit", args=[tree.site.slug, tree.public_id])


def test_three_facts_are_enough(browser, url, site):
    answer = browser.post(url, THREE)
    assert answer.url == reverse("trees", args=[site.slug])
    tree = Tree.objects.get()
    assert (tree.name, tree.species_key) == ("Apple", "apple")
    assert (tree.planted_on, tree.entered_on) == (date(2024, 3, 15), TODAY)
    assert (tree.fed_before, tree.pruned_before) == ("unknown", "unknown")


def test_the_page_says_why_the_rest_matters(browser, url):
    words = text_of(page_of(browser.get(url)))
    assert "Three facts are enough" in words
    assert "Crown width changes water most" in words


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("2024", date(2024, 1, 1)),
        ("2024-03", date(2024, 3, 1)),
        ("March 2024", date(2024, 3, 1)),
        ("mar 2024", date(2024, 3, 1)),
        ("2024.3.15", date(2024, 3, 15)),
        (str(TODAY), TODAY),
    ],
)
def test_when_it_was_planted_is_read_as_people_write_it(browser, url, typed, day):
    browser.post(url, {**THREE, "planted": typed})
    assert Tree.objects.get().planted_on == day


def test_an_old_tree_needs_no_date(browser, url):
    browser.post(url, {**THREE, "planted": "", "planted_long_ago": "on"})
    assert Tree.objects.get().planted_on is None


def test_a_second_tree_of_a_kind_gets_a_name_of_its_own(browser, url, site):
    for _ in range(3):
        browser.post(url, THREE)
    names = set(site.trees.values_list("name", flat=True))
    assert names == {"Apple", "Apple 2", "Apple 3"}


def test_everything_that_is_offered_is_kept(browser, url, site):
    before = Site.objects.get(pk=site.pk).revision
    browser.post(
        url,
        {
            **POT,
            "name": "Lemon by the door",
            "cultivar": "Meyer",
            "tag": "L1",
            "block_name": "Patio",
            "crown_width_m": "1,2",
            "place": "indoors_unheated",
            "place_since": "2025-06-01",
            "container_medium": "soil",
            "rain_reach": "no",
            "irrigation_litres": "2",
            "irrigation_weekdays": ["4", "0"],
            "irrigation_since": "2025-05-01",
            "stock": "bare_root",
            "mulch_material": "bark",
            "mulch_depth_mm": "50",
            "fed_before": "yes",
            "clump_name": "Pair",
            "near_wires": "on",
        },
    )
    tree = Tree.objects.get()
    assert (tree.name, tree.cultivar, tree.tag) == ("Lemon by the door", "Meyer", "L1")
    assert (tree.block.name, tree.clump.name) == ("Patio", "Pair")
    assert (tree.crown_width_m, tree.container_litres) == (1.2, 60.0)
    assert (tree.irrigation_litres, tree.irrigation_weekdays) == (2.0, "04")
    assert (tree.mulch_material, tree.mulch_laid_on) == ("bark", TODAY)
    assert (tree.rain_reach, tree.stock, tree.fed_before) == ("no", "bare_root", "yes")
    assert (tree.container_medium, tree.near_wires) == ("soil", True)
    assert tree.irrigation_since == date(2025, 5, 1)
    stay = tree.stays.get()
    assert (stay.place, stay.since) == ("indoors_unheated", date(2025, 6, 1))
    assert Site.objects.get(pk=site.pk).revision == before + 1


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"species": "aple"}, "“aple” is not in the list. Did you mean Apple?"),
        ({"species": "xyzzy"}, "“xyzzy” is not in the list of species"),
        ({"species": ""}, "Say what it is"),
        ({"grows_in": ""}, "Choose the ground or a pot"),
        ({"planted": ""}, "Write when, or tick"),
        ({"planted": "2030"}, "1 January 2030 is too far ahead to plan"),
        ({"planted": "1200"}, "Long ago; nobody knows"),
        ({"planted": "2024-02-30"}, "2024-03-15, March 2024 or 2024"),
        ({"planted": "in spring"}, "“in spring” is no such day"),
        ({"planted": "2024", "planted_long_ago": "on"}, "not both"),
        ({"grows_in": "pot"}, "A pot needs its volume"),
        ({"grows_in": "pot", "container_litres": "0"}, "0 L cannot be right"),
        ({"grows_in": "pot", "container_litres": "-5"}, "cannot be right"),
        ({"grows_in": "pot", "container_litres": "big"}, "not a number"),
        ({"grows_in": "pot", "container_litres": "60 mm"}, "L or gal"),
        ({"crown_width_m": "300"}, "must be from 0.05 m to 40 m"),
        ({"crown_width_m": "1,200"}, "can be read two ways"),
        ({"irrigation_litres": "5"}, "On which days does it run?"),
        ({"irrigation_minutes": "5"}, "How much do they give in one hour?"),
        (
            {"irrigation_since": "2025-06-01", "irrigation_until": "2025-05-01"},
            "That is before it began.",
        ),
        ({"irrigation_weekdays": ["1"]}, "How much does it give"),
        ({"irrigation_weekdays": ["9"]}, "Select a valid choice"),
        ({"mulch_depth_mm": "50"}, "What is the mulch made of?"),
        ({"mulch_material": "bark"}, "How deep is the mulch?"),
        ({"mulch_material": "bark", "mulch_laid_on": "2025-07-03"}, "still to come"),
        ({"place": "outdoors", "place_since": "2025-07-03"}, "still to come"),
        ({"place_since": "last week"}, "year-month-day"),
        ({"position": "first"}, "whole number"),
        ({"drip_l_per_h": "0"}, "0 L cannot be right"),
        ({"drainage_hours": "long"}, "“long” is not a number"),
        ({"soil_ph": "1"}, "from 3 to 10"),
        ({"water_distance_m": "-1"}, "cannot be right"),
        ({"goal": "winning"}, "Select a valid choice"),
        ({"support": "rope"}, "Select a valid choice"),
        ({"is_grafted": "perhaps"}, "Select a valid choice"),
    ],
)
def test_a_mistake_is_named_and_nothing_is_lost_or_saved(browser, url, typed, words):
    kept = {"name": "Gate tree", "cultivar": "Russet"}
    answer = browser.post(url, {**THREE, **kept, "block_name": "New", **typed})
    one_error(answer, words)
    page = page_of(answer)
    assert page.xpath("//input[@name='name']/@value") == ["Gate tree"]
    assert page.xpath("//input[@name='cultivar']/@value") == ["Russet"]
    for name, value in typed.items():
        if name in {"species", "planted", "container_litres", "crown_width_m"}:
            # An empty box has no value at all.
            assert (
                page.xpath(f"//input[@name='{name}']/@value") == [value][: bool(value)]
            )
    assert not Tree.objects.exists()
    assert not Block.objects.filter(name="New").exists()


def test_a_fold_with_a_mistake_is_unfolded(browser, url):
    page = page_of(browser.post(url, {**THREE, "crown_width_m": "300"}))
    opened = page.xpath("//details[@open]/summary/text()")
    assert opened == ["Size"]


def test_a_tag_is_used_once_at_a_site(browser, url, make_tree):
    make_tree(tag="A1")
    one_error(browser.post(url, {**THREE, "tag": "A1"}), "has the tag A1")


def test_another_may_follow_in_the_same_block(browser, url):
    answer = browser.post(url, {**THREE, "block_name": "Patio", "another": "1"})
    page = page_of(browser.get(answer.url))
    assert page.xpath("//input[@name='block_name']/@value") == ["Patio"]


def test_the_first_run_ends_at_the_round(browser, url, site):
    answer = browser.post(url + "?first=1", THREE)
    assert answer.url == reverse("round", args=[site.slug])
    more = browser.post(url + "?first=1", {**THREE, "another": "1"})
    assert "first=1" in more.url


def test_a_us_member_types_and_sees_us_units(browser, cast, url):
    choose_units(person=cast.owner, units="us")
    words = text_of(page_of(browser.get(url)))
    assert "Crown width (ft)" in words
    assert "Pot volume (gal)" in words
    browser.post(url, {**POT, "container_litres": "15", "crown_width_m": "10"})
    tree = Tree.objects.get()
    # NIST SP 811: 1 US gal = 3.785 411 784 L, 1 ft = 0.3048 m.
    assert tree.container_litres == pytest.approx(56.781_176_76)
    assert tree.crown_width_m == pytest.approx(3.048)
    page = page_of(browser.get(edit_url(tree)))
    assert page.xpath("//input[@name='container_litres']/@value") == ["15"]
    assert page.xpath("//input[@name='crown_width_m']/@value") == ["10"]


def test_a_us_members_mistake_is_answered_in_us_units(browser, cast, url):
    choose_units(person=cast.owner, units="us")
    answer = browser.post(url, {**THREE, "crown_width_m": "500"})
    one_error(answer, "500 ft cannot be right: it must be from 0.2 ft to 131 ft")


def test_a_unit_that_is_written_counts(browser, url):
    browser.post(url, {**POT, "container_litres": "15 gal", "crown_width_m": "120 cm"})
    tree = Tree.objects.get()
    assert tree.container_litres == pytest.approx(56.781_176_76)
    assert tree.crown_width_m == pytest.approx(1.2)


def test_saving_unchanged_changes_nothing(browser, cast, url, make_tree):
    choose_units(person=cast.owner, units="us")
    tree = make_tree(
        crown_width_m=3.333,
        caliper_mm=41.7,
        in_container=True,
        container_litres=47.123,
        irrigation_litres=1.1,
        irrigation_weekdays="03",
        mulch_material="bark",
        mulch_depth_mm=51.0,
        mulch_laid_on=date(2025, 5, 1),
        goal="survival",
        support="permanent",
        is_grafted=False,
        has_trunk_guard=True,
        drainage_hours=6.5,
        soil_ph=5.25,
        drip_l_per_h=7.7,
        water_distance_m=12.345,
    )
    before = Tree.objects.values().get(pk=tree.pk)
    page = page_of(browser.get(edit_url(tree)))
    form = max(page.forms, key=lambda each: len(each.fields))
    sent = {}
    for name, value in form.form_values():
        sent.setdefault(name, []).append(value)
    answer = browser.post(edit_url(tree), sent)
    assert answer.status_code == 302, one_error(answer, "")
    assert Tree.objects.values().get(pk=tree.pk) == before


def test_a_changed_tree_is_kept(browser, make_tree, site):
    tree = make_tree()
    before = Site.objects.get(pk=site.pk).revision
    page = page_of(browser.get(edit_url(tree)))
    assert page.xpath("//input[@name='species']/@value") == ["Apple"]
    answer = browser.post(
        edit_url(tree), {**THREE, "name": "Old Tom", "height_m": "4", "block_name": ""}
    )
    assert answer.url == reverse("tree", args=[site.slug, tree.public_id])
    again = Tree.objects.get()
    assert (again.name, again.height_m, again.block) == ("Old Tom", 4.0, None)
    assert Site.objects.get(pk=site.pk).revision == before + 1


def test_a_tree_may_be_planned_for_a_day_to_come(browser, url, site):
    answer = browser.post(url, {**THREE, "planted": "March 2026"}, follow=True)
    assert Tree.objects.get().planted_on == date(2026, 3, 1)
    words = text_of(page_of(answer))
    assert "Apple is planned. Its care begins once it is planted." in words


def test_a_planned_tree_may_be_planted_later_than_planned(browser, make_tree):
    tree = make_tree(entered_on=date(2025, 5, 1), planted_on=date(2025, 6, 1))
    browser.post(edit_url(tree), {**THREE, "planted": "2025-06-20"})
    tree.refresh_from_db()
    assert (tree.planted_on, tree.entered_on) == (date(2025, 6, 20), date(2025, 5, 1))


STANDS = {
    "drip_l_per_h": "8",
    "is_grafted": "no",
    "goal": "vigour",
    "support": "stake",
    "has_trunk_guard": "on",
    "drainage_hours": "6,5",
    "soil_ph": "5",
    "water_distance_m": "12",
}


def test_how_a_tree_stands_is_kept(browser, url):
    browser.post(url, {**THREE, **STANDS})
    tree = Tree.objects.get()
    assert (tree.goal, tree.support, tree.is_grafted) == ("vigour", "stake", False)
    assert (tree.has_trunk_guard, tree.drip_l_per_h) == (True, 8.0)
    assert (tree.drainage_hours, tree.soil_ph) == (6.5, 5.0)
    assert tree.water_distance_m == 12.0


def test_a_tree_of_which_only_three_facts_are_said_stands_as_most_do(browser, url):
    browser.post(url, THREE)
    tree = Tree.objects.get()
    assert (tree.goal, tree.support, tree.is_grafted) == ("standard", "none", True)
    assert (tree.drainage_hours, tree.soil_ph, tree.drip_l_per_h) == (None, None, None)


def test_another_orchards_tree_is_not_found(cast, client_of, make_tree):
    tree = make_tree()
    assert client_of(cast.stranger).get(edit_url(tree)).status_code == 404


def test_a_tree_of_another_site_is_not_found_under_this_one(cast, client_of, make_tree):
    tree = make_tree()
    other = cast.stranger.orchards.get().sites.get()
    url = reverse("tree_edit", args=[other.slug, tree.public_id])
    assert client_of(cast.stranger).get(url).status_code == 404


def test_a_grower_is_told_whom_to_ask(cast, client_of, url):
    answer = client_of(cast.grower).post(url, THREE)
    assert answer.status_code == 403
    assert "Ask an owner or coordinator" in answer.content.decode()
    assert not Tree.objects.exists()


@pytest.mark.parametrize("name", ["add_tree", "change_tree"])
def test_two_who_save_at_once_are_told_and_lose_nothing(
    browser, make_tree, url, monkeypatch, name
):
    def beaten(**_values):
        raise IntegrityError

    tree = make_tree()
    monkeypatch.setattr(f"orchard.views.trees.{name}", beaten)
    where = url if name == "add_tree" else edit_url(tree)
    answer = browser.post(where, {**THREE, "cultivar": "Russet"})
    one_error(answer, "Somebody else saved at the same moment")
    assert page_of(answer).xpath("//input[@name='cultivar']/@value") == ["Russet"]
