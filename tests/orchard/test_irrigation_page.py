"""Water that comes by itself: written down once for a whole row, and ended."""

from datetime import date, timedelta

import pytest

from care.planning.gather import gather
from orchard.actions.places import block_named, change_site
from orchard.actions.trees import add_tree
from orchard.actions.watering_rules import RuleValues
from orchard.models import Site, Tree
from tests.conftest import TODAY
from tests.orchard.plain_page import page_of, text_of

URL = "/s/test-site/irrigation/"
DAY = timedelta(days=1)


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.coordinator)


@pytest.fixture
def row(site, make_tree):
    trees = [make_tree(name) for name in ("Anna", "Berta", "Carla")]
    make_tree("Far", block=block_named(site=site, name="Gate"))
    make_tree("Gone", status=Tree.Status.LOST, ended_on=TODAY)
    return trees


def posted(tree, **changes):
    return {
        "where": str(tree.block_id),
        "irrigation_litres": "12",
        "irrigation_weekdays": ["0", "3"],
        "irrigation_since": "2025-06-01",
        **changes,
    }


def running(**fields):
    return set(Tree.objects.filter(**fields).values_list("name", flat=True))


def test_a_timer_is_written_down_for_a_whole_row(browser, site, row):
    answer = browser.post(URL, posted(row[0]), follow=True)
    assert running(irrigation_litres=12.0, irrigation_weekdays="03") == {
        "Anna",
        "Berta",
        "Carla",
    }
    words = text_of(page_of(answer))
    assert "Written down for 3 trees." in words
    assert "12 L each on Mon, Thu since 1 June 2025" in words
    entry = site.orchard.audit.latest("id")
    assert (entry.what, entry.subject) == ("irrigation_changed", "3")


def test_minutes_and_drippers_are_reckoned_into_litres(browser, row):
    drips = {"irrigation_litres": "", "irrigation_minutes": "45", "drip_l_per_h": "8"}
    browser.post(URL, posted(row[0], **drips))
    # 8 L an hour for three quarters of an hour
    assert running(irrigation_litres=6.0, drip_l_per_h=8.0) == {
        "Anna",
        "Berta",
        "Carla",
    }


def test_all_trees_are_every_living_one(browser, row):
    browser.post(URL, posted(row[0], where="all"))
    assert running(irrigation_litres=12.0) == {"Anna", "Berta", "Carla", "Far"}


def test_all_trees_are_of_this_place_alone(browser, cast, row):
    elsewhere = cast.stranger.orchards.get().sites.get()
    add_tree(
        site=elsewhere,
        values={"name": "Theirs", "species_key": "apple"},
        today=TODAY,
    )
    assert "Theirs" not in text_of(page_of(browser.get(URL)))
    browser.post(URL, posted(row[0], where="all"))
    browser.post(f"{URL}end/", {"where": "all"})
    assert "Theirs" not in running(irrigation_litres=12.0)


def test_days_that_a_local_rule_forbids_are_told(browser, site, row):
    rule = RuleValues(5, 1, 9, 30, weekdays="03", source="County order 7")
    change_site(site=site, values={}, watering_rules=[rule])
    told = text_of(page_of(browser.post(URL, posted(row[0]), follow=True)))
    assert "The local rule forbids" not in told
    daily = posted(row[0], irrigation_weekdays=["0", "1"])
    told = text_of(page_of(browser.post(URL, daily, follow=True)))
    assert (
        "The local rule forbids some of these days: From 1 May to 30 September water "
        "on Monday, Thursday only (County order 7)." in told
    )


def test_it_ends_today_and_its_days_stay_counted(browser, site, row):
    browser.post(URL, posted(row[0]))
    before = Site.objects.get(pk=site.pk).revision
    answer = browser.post(f"{URL}end/", {"where": str(row[0].block_id)}, follow=True)
    assert "It ends today for 3 trees." in text_of(page_of(answer))
    assert "12 L each" not in text_of(page_of(answer))
    assert Site.objects.get(pk=site.pk).revision == before + 1
    (plan,) = {tree.standing_irrigation for tree in gather(site, TODAY).trees[:3]}
    assert (plan.since, plan.until) == (date(2025, 6, 1), TODAY)
    again = browser.post(f"{URL}end/", {"where": str(row[0].block_id)}, follow=True)
    assert "It ends today for 0 trees." in text_of(page_of(again))


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"irrigation_litres": ""}, "How much does it give each time?"),
        ({"irrigation_weekdays": []}, "On which days does it run?"),
        ({"irrigation_litres": "lots"}, "lots"),
        ({"irrigation_minutes": "30"}, "How much do they give in one hour?"),
        ({"irrigation_minutes": "0"}, "from 1 to 1440"),
        ({"irrigation_until": "2025-05-01"}, "That is before it began."),
        ({"where": "moon"}, "Select a valid choice"),
        ({"irrigation_weekdays": ["9"]}, "Select a valid choice"),
        (
            {"irrigation_litres": "", "irrigation_weekdays": []},
            "How much does it give each time?",
        ),
    ],
)
def test_a_mistake_is_named_and_nothing_is_saved(browser, row, changed, words):
    answer = browser.post(URL, posted(row[0], **changed))
    assert answer.status_code == 422
    assert words in text_of(page_of(answer))
    assert not running(irrigation_litres__isnull=False)


def test_the_page_asks_as_often_for_30_trees_as_for_3(
    browser, row, make_tree, django_assert_max_num_queries
):
    with django_assert_max_num_queries(12):
        browser.get(URL)
    for number in range(27):
        make_tree(f"Tree {number}")
    with django_assert_max_num_queries(12):
        browser.get(URL)
