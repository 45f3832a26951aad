"""Planning a planting on its pages: from nothing to days, and every refusal in words."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from care.actions.logbook import write_note
from care.actions.plantings import make_planting, plan_tree, want_trees
from care.views.wanted import find_wanted
from orchard.models import Feature, Planting, Tree, WantedTree
from orchard.views.site_page import SitePage
from tests.conftest import TODAY
from tests.orchard.plain_page import errors_of, one_error, page_of, text_of

NOW = datetime(2025, 7, 2, 15, tzinfo=UTC)
THREE = {
    "species": "fig",
    "grows_in": "ground",
    "stock": "container_grown",
    "count": "1",
    "has_edging": "on",
}
AUTUMN = date(2025, 9, 20)  # the time of hardy trees from pots at the test site


@pytest.fixture
def browser(cast, client_of):
    return client_of(cast.owner)


@pytest.fixture
def planting(site):
    return make_planting(site=site, name="South side", today=TODAY, person=None)


@pytest.fixture
def want(planting):
    def some(*keys, **facts):
        return [
            want_trees(
                planting=planting,
                values={"species_key": key, **facts},
                names=[key.title()],
                person=None,
            )[0]
            for key in keys
        ]

    return some


def url(name, site, *args):
    return reverse(name, args=[site.slug, *args])


def said(answer):
    return text_of(page_of(answer))


def test_from_nothing_to_trees_with_a_day(browser, site):
    hub = said(browser.get(url("plantings", site)))
    assert "No planting yet" in hub
    assert "Plan a planting" in hub
    answer = browser.post(url("planting_add", site), {"name": " North  bed "})
    planting = Planting.objects.get()
    assert planting.name == "North bed"
    assert answer.url == url("wanted_add", site, planting.public_id)
    prefilled = page_of(browser.get(f"{answer.url}?kind=fig"))
    assert prefilled.xpath("//input[@name='species']/@value") == ["Fig"]
    assert "Celeste" in prefilled.xpath("//datalist[@id='cultivars']/option/@value")
    alike = {**THREE, "count": "2", "block_name": "New row", "rootstock": "own roots"}
    listed = browser.post(answer.url, alike, follow=True)
    words = said(listed)
    assert "2 trees are on the list: Fig and others." in words
    assert "Wait until 15 September" in words
    assert "No place yet." in words
    assert "No weather is known of this place" in words
    first, second = WantedTree.objects.order_by("id")
    assert (first.name, second.name) == ("Fig", "Fig 2")
    assert (first.block.name, first.backfill, first.has_edging) == (
        "New row",
        "native",
        True,
    )
    assert (first.mulch_depth_mm, first.mulch_ring_radius_m) == (75.0, 0.6)
    days = url("planting_days", site, planting.public_id)
    done = said(browser.post(days, {"on": str(AUTUMN)}, follow=True))
    assert "2 trees are planned for Saturday 20 September." in done
    assert Tree.objects.filter(planted_on=AUTUMN).count() == 2
    assert "2 trees: 2 with a day" in said(browser.get(url("plantings", site)))


def test_what_is_refused_is_said_at_its_box_and_nothing_is_saved(
    browser, site, planting, want
):
    add = url("wanted_add", site, planting.public_id)
    answer = browser.post(add, {**THREE, "species": "figg", "name": "By the door"})
    one_error(answer, "Did you mean Fig?")
    assert "By the door" in answer.content.decode()
    pot = {**THREE, "grows_in": "pot", "block_name": "Never made"}
    one_error(browser.post(add, pot), "A pot needs its volume")
    assert not WantedTree.objects.exists()
    assert not site.blocks.filter(name="Never made").exists()
    again = browser.post(url("planting_add", site), {"name": "South side"})
    one_error(again, "There is a planting called South side here")
    want("fig", "lemon")
    days = url("planting_days", site, planting.public_id)
    one_error(browser.post(days, {"on": str(TODAY - timedelta(days=1))}), "is over")
    one_error(browser.post(days, {"on": "2025-08-01"}), "the time of none of the trees")
    assert not Tree.objects.exists()
    # The fig's time, not the lemon's.
    words = said(browser.post(days, {"on": str(AUTUMN)}, follow=True))
    assert "1 tree is planned for" in words
    assert "That is not the time of Lemon." in words


def test_one_tree_gets_a_day_moves_it_and_gives_it_back(browser, site, want):
    (fig,) = want("fig")
    day = url("wanted_day", site, fig.public_id)
    shown = said(browser.get(day))
    assert "Wait until 15 September" in shown
    assert "Its times in the coming year and a half" in shown
    assert "Does it fit here?" in shown
    for on in (AUTUMN, AUTUMN):
        browser.post(day, {"on": str(on)})
    assert Tree.objects.get().planted_on == AUTUMN
    moved = said(browser.post(day, {"on": "2025-08-01"}, follow=True))
    assert "Fig is planned for Friday 1 August 2025." in moved
    assert "That is not its time: better" in moved
    assert "To be planted on Friday 1 August" in moved
    tree = Tree.objects.get()
    write_note(
        site=site, tree=tree, note="Dug a test hole", person=None, on=TODAY, now=NOW
    )
    for name, posted in (("wanted_day", {"clear": "1"}), ("wanted_remove", {})):
        kept = browser.post(url(name, site, fig.public_id), posted, follow=True)
        assert "Something stands in its log already" in said(kept)
    assert Tree.objects.get() == tree
    tree.log.all().delete()
    cleared = said(browser.post(day, {"clear": "1"}, follow=True))
    assert "Fig has no day any more." in cleared
    assert not Tree.objects.exists()
    gone = browser.post(url("wanted_remove", site, fig.public_id), follow=True)
    assert "Fig is no longer wanted." in said(gone)
    assert not WantedTree.objects.exists()


def test_a_wish_is_changed_with_everything_it_showed(browser, site, want, make_tree):
    lost = make_tree("Old pear", status="lost", ended_on=TODAY)
    (fig,) = want("fig", caliper_mm=15.0, support="stake", replaces=lost)
    edit = url("wanted_edit", site, fig.public_id)
    page = page_of(browser.get(edit))
    (form,) = page.xpath("//form[not(@action) and .//input[@name='species']]")
    posted = dict(form.form_values())
    assert "count" not in posted
    assert (posted["species"], posted["support"]) == ("Fig", "stake")
    assert posted["replaces"] == str(lost.public_id)
    browser.post(edit, posted)
    fig.refresh_from_db()
    assert (fig.caliper_mm, fig.support, fig.replaces) == (15.0, "stake", lost)
    posted |= {"name": "Fig by the wall", "block_name": "Long row", "species": "apple"}
    assert "Fig by the wall is changed." in said(
        browser.post(edit, posted, follow=True)
    )
    fig.refresh_from_db()
    assert (fig.name, fig.species_key, fig.block.name) == (
        "Fig by the wall",
        "apple",
        "Long row",
    )
    errors = errors_of(page_of(browser.post(edit, {**posted, "stock": ""})))
    assert any("most come in a pot" in error for error in errors)


def test_a_kind_that_fits_is_carried_to_its_wish(browser, site):
    begin = f"{url('plantings', site)}add/?kind=fig"
    answer = browser.post(begin, {"name": "Fits here"})
    assert answer.url.endswith("/trees/add/?kind=fig")
    unknown = page_of(browser.get(answer.url.replace("fig", "%3Cb%3E")))
    assert unknown.xpath("//input[@name='species']/@value") == ["<b>"]


def test_what_somebody_else_took_off_the_list_is_not_found(
    browser, site, want, monkeypatch
):
    (fig,) = want("fig")
    row = find_wanted(SitePage(site, None, TODAY, NOW), fig.public_id)
    WantedTree.objects.all().delete()
    monkeypatch.setattr("care.views.wanted.find_wanted", lambda *_: row)
    for name, posted in (("wanted_remove", {}), ("wanted_day", {"on": str(AUTUMN)})):
        answer = browser.post(url(name, site, fig.public_id), posted)
        assert answer.status_code == 404


def test_what_stands_is_changed_at_its_own_page(browser, site, want):
    (fig,) = want("fig")
    tree = plan_tree(wanted=fig, on=TODAY, today=TODAY, person=None)
    own = url("tree", site, tree.public_id)
    for name in ("wanted_edit", "wanted_day"):
        assert browser.get(url(name, site, fig.public_id)).url == own
    assert browser.post(url("wanted_remove", site, fig.public_id)).url == own
    words = said(browser.get(url("planting", site, fig.planting.public_id)))
    assert "Stands since 2 July" in words
    assert "One day for all" not in words


def test_a_day_that_went_by_unticked_can_be_moved(browser, site, want):
    (fig,) = want("fig")
    tree = plan_tree(wanted=fig, on=TODAY + timedelta(days=9), today=TODAY, person=None)
    Tree.objects.filter(pk=tree.pk).update(
        planted_on=TODAY - timedelta(days=1), entered_on=TODAY - timedelta(days=9)
    )
    words = said(browser.get(url("planting", site, fig.planting.public_id)))
    assert "Was to be planted on Tuesday 1 July, and nobody ticked it yet" in words
    browser.post(url("wanted_day", site, fig.public_id), {"on": str(AUTUMN)})
    assert Tree.objects.get().planted_on == AUTUMN


def test_a_planting_is_renamed_put_away_and_taken_out(browser, site, planting):
    edit = url("planting_edit", site, planting.public_id)
    browser.post(edit, {"name": "Long bed"})
    assert "Long bed is put away." in said(
        browser.post(edit, {"away": "1"}, follow=True)
    )
    planting.refresh_from_db()
    assert (planting.name, planting.is_put_away) == ("Long bed", True)
    assert "This planting is put away" in said(
        browser.get(url("planting", site, planting.public_id))
    )
    browser.post(edit, {"back": "1"})
    planting.refresh_from_db()
    assert not planting.is_put_away


def test_the_pages_ask_as_often_for_many_trees_as_for_one(
    browser, cast, client_of, site, planting, want
):
    paths = [url("plantings", site), url("planting", site, planting.public_id)]

    def asked():
        counts = []
        for path in paths:
            with CaptureQueriesContext(connection) as queries:
                assert browser.get(path).status_code == 200
            counts.append(len(queries))
        return counts

    def plan(wanted):
        plan_tree(wanted=wanted, on=AUTUMN, today=TODAY, person=None)

    plan(want("fig")[0])
    want("quince")
    asked()
    few = asked()
    for wanted in want("apple", "lemon", "pear", "mango", "peach")[:3]:
        plan(wanted)
    assert asked() == few
    viewer = said(client_of(cast.viewer).get(paths[1]))
    assert "Set its day" not in viewer
    assert "One day for all" not in viewer


def test_other_ways_to_begin_lead_here(browser, site):
    link = f'href="{url("plantings", site)}"'
    for name in ("trees", "tree_add"):
        page = browser.get(url(name, site)).content.decode()
        assert page.count(link) >= 2  # in the menu, and where one begins


def test_a_tree_with_a_place_is_not_told_of_the_room_left_beside_it(
    browser, site, want
):
    Feature.objects.create(
        site=site, kind="boundary", points_m=[[0, 0], [4, 0], [4, 4], [0, 4]]
    )
    loose = want("fig")[0]
    placed = want("quince", x_m=2.0, y_m=2.0)[0]
    room = "the widest free circle on your plan"
    assert room in said(browser.get(url("wanted_day", site, loose.public_id)))
    assert room not in said(browser.get(url("wanted_day", site, placed.public_id)))
