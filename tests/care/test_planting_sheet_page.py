"""The planting sheet on the phone and on paper, and what to buy for it."""

from datetime import date, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from care.models import LogEntry, PlantingStep, Task
from orchard.actions.weather import set_normals
from orchard.models import Corner, Planting, Tree, WantedTree
from tests.conftest import TODAY

HTMX = {"HX-Request": "true"}


@pytest.fixture
def planting(site):
    return Planting.objects.create(site=site, name="Autumn", begun_on=TODAY)


@pytest.fixture
def make_wanted(planting):
    def make(name="New pear", **facts):
        usual = {"species_key": "pear", "stock_litres": 24.6}
        return WantedTree.objects.create(
            planting=planting, name=name, **{**usual, **facts}
        )

    return make


@pytest.fixture
def at(site):
    def path(name, *ids):
        return reverse(name, args=[site.slug, *ids])

    return path


def words(answer):
    return " ".join(answer.content.decode().split())


def open_kinds(tree):
    open_tasks = Task.objects.filter(tree=tree, status="open")
    return set(open_tasks.values_list("kind", flat=True))


def test_a_sheet_says_what_how_much_and_why_and_is_ticked(
    at, cast, client_of, make_wanted, site
):
    for name, x_m in (("House", 0.0), ("Gate", 6.0)):
        Corner.objects.create(site=site, name=name, x_m=x_m, y_m=0.0)
    wanted = make_wanted(cultivar="Moonglow", x_m=3.0, y_m=4.0)
    grower, viewer = client_of(cast.grower), client_of(cast.viewer)
    address = at("wanted_sheet", wanted.public_id)
    page = words(grower.get(address))
    for part in (
        "European pear \N{LEFT SINGLE QUOTATION MARK}Moonglow\N{RIGHT SINGLE QUOTATION MARK}, grown in a nursery pot, ball of 25 L, for the ground",
        "Where: 5 m from Gate, 5 m from House",
        "None of 23 steps is done yet",
        "Stop: nobody digs before pipes and cables are marked",
        "Before anybody digs",
        "Two schools",
        '<span class="amount">0.67\N{EN DASH}1 m</span> wide',
        '<span class="amount">25\N{EN DASH}75 mm</span>',
        "Not ticked yet: 23",
    ):
        assert part in page, part
    paper = words(viewer.get(at("planting_sheet", wanted.planting.public_id)))
    assert "New pear: 5 m from Gate, 5 m from House" in paper
    seen = words(viewer.get(address))
    assert "You may look, but not tick" in seen
    assert "button--tick" not in seen

    step = at("wanted_step", wanted.public_id, "turf_ring")
    line = words(grower.post(step, headers=HTMX))
    assert line.startswith(
        '<li class="line line--step line--done" id="step-turf_ring">'
    )
    assert "1 of 23 steps done." in line
    again = words(client_of(cast.owner).post(step, headers=HTMX))
    assert "grower ticked this already." in again
    undo = at("wanted_step_undo", wanted.public_id, "turf_ring")
    assert "line--done" not in words(grower.post(undo, headers=HTMX))
    assert not PlantingStep.objects.exists()

    assert grower.post(at("wanted_step", wanted.public_id, "odd")).status_code == 404
    assert viewer.post(step).status_code == 403


def test_amounts_are_asked_in_ones_own_units_and_bad_ones_are_kept(
    at, cast, client_of, make_wanted
):
    cast.grower.units = "us"
    cast.grower.save()
    wanted, browser = make_wanted(), client_of(cast.grower)
    step = at("wanted_step", wanted.public_id, "settle_with_water")
    for headers in ({}, HTMX):
        refused = browser.post(step, {"amount": "much"}, headers=headers)
        assert refused.status_code == 422
        assert 'value="much"' in words(refused)
        assert "“much” is not a number." in words(refused)
    assert not PlantingStep.objects.exists()
    answer = browser.post(step, {"amount": "2"})
    assert answer.headers["Location"].endswith("#step-settle_with_water")
    assert PlantingStep.objects.get().amount == pytest.approx(7.571, abs=0.001)

    drained = at("wanted_step", wanted.public_id, "drainage")
    answer = browser.post(drained, {"amount": "60"}, headers=HTMX)
    assert answer.headers["HX-Refresh"] == "true"
    page = words(browser.get(at("wanted_sheet", wanted.public_id)))
    assert "Stop: the ground holds water for days" in page
    assert "Build a mound" in page
    assert "60 hours · grower, today" in page


def test_it_stands_though_not_everything_was_ticked_and_is_taken_back(
    at, cast, client_of, make_wanted, site
):
    """From the wish to the tree, its log and its plan; and back."""
    set_normals(site=site, months=[(m, 12.0, 26.0, 0.2) for m in range(1, 13)])
    wanted, browser = make_wanted(), client_of(cast.grower)
    for code in ("locate", "mulch_ring"):
        browser.post(at("wanted_step", wanted.public_id, code))
    stands = at("wanted_stands", wanted.public_id)
    late = browser.post(stands, {"on": str(TODAY + timedelta(days=1))})
    assert late.status_code == 422
    assert "That day has not come yet." in words(late)
    assert not Tree.objects.exists()

    said = words(browser.post(stands, {"on": str(TODAY)}, follow=True))
    assert "New pear stands. Its care begins with the next plan. Not ticked:" in said
    assert "It stands since" in said
    tree = Tree.objects.get()
    round_page = words(browser.get(at("round")))
    assert "Planted New pear" in round_page
    assert "Mulched New pear" in round_page
    assert open_kinds(tree) >= {"watering", "establishing"}
    assert "planting" not in open_kinds(tree)
    entry = LogEntry.objects.get(action="plant")
    back = at("wanted_sheet", wanted.public_id)
    undone = browser.post(
        at("entry_undo", entry.public_id), {"back": back}, follow=True
    )
    assert "To be planted tomorrow." in words(undone)
    tree.refresh_from_db()
    assert tree.mulch_laid_on is None
    browser.get(at("round"))
    assert open_kinds(tree) == {"planting"}
    assert not LogEntry.objects.filter(kind="mulching", voided_at=None).exists()


def test_a_tree_planned_by_its_form_has_a_sheet_too(
    at, cast, client_of, make_tree, make_wanted
):
    browser = client_of(cast.grower)
    planned = make_tree("Quince", planted_on=TODAY + timedelta(days=9))
    page = words(browser.get(at("tree", planned.public_id)))
    address = at("tree_planting_sheet", planned.public_id)
    assert address in page
    sheet = words(browser.post(address, follow=True))
    assert "Planting Quince" in sheet
    assert Planting.objects.get(name="Planned trees").wanted.get().tree == planned
    old = make_tree("Old", planted_on=date(2010, 1, 1))
    assert at("tree_planting_sheet", old.public_id) not in words(
        browser.get(at("tree", old.public_id))
    )
    answer = browser.post(at("tree_planting_sheet", old.public_id), follow=True)
    assert "Old stands already and needs no sheet." in words(answer)


def test_paper_and_shopping_sum_over_many_trees_in_few_queries(
    at, cast, client_of, make_wanted, planting
):
    browser = client_of(cast.viewer)
    paper = at("planting_sheet", planting.public_id)
    shop = at("planting_shopping", planting.public_id)
    assert "Nothing to plant yet" in words(browser.get(paper))
    assert "Nothing to buy yet" in words(browser.get(shop))

    make_wanted("Pear 1", backfill="compost", support="stake", is_fed=True)
    few = [_queries(browser, each) for each in (paper, shop)]
    for number in range(2, 21):
        make_wanted(f"Pear {number}", backfill="compost", support="stake", is_fed=True)
    assert [_queries(browser, each) for each in (paper, shop)] == few

    printed = words(browser.get(paper))
    assert "1 Pear 1, 2 Pear 2" in printed
    assert printed.count('<span class="box">20</span>') == 23
    bought = words(browser.get(shop))
    for name, needed, buy in (
        # By hand: a quarter of 70.5 L of backfill, times 20, in bags of 50 L but for
        # the last hundredth; mulch
        # of 77.6 L; edging of 2 pi 0.6 m; two waterings of 7.5 L; two stakes and ties.
        ("Compost", "352 L", "7 bags of 50 L"),
        ("Mulch: wood chips", "1552 L", "31 bags of 50 L"),
        ("Edging", "75 m", "76 m"),  # 75.4 m
        ("Stakes", "40", "40"),
        ("Wide ties", "40", "40"),
        ("Trunk guards", "20", "20"),
        ("Water", "300 L", "30 cans of 10 L"),
    ):
        row = f'<th scope="row">{name}</th><td class="number" data-name="Needed">'
        assert f"{row}{needed}</td>" in bought, name
        assert f"<strong>{buy}</strong>" in bought, name
    assert "may weigh 45 kg" in bought


def _queries(browser, address):
    with CaptureQueriesContext(connection) as caught:
        assert browser.get(address).status_code == 200
    return len(caught)


def test_us_sizes_pots_and_trees_that_stand(at, cast, client_of, make_wanted, planting):
    cast.viewer.units = "us"
    cast.viewer.save()
    pot = {
        "in_container": True,
        "container_litres": 60.0,
        "species_key": "blueberry_highbush",
    }
    make_wanted("Blue 1", **pot, backfill="acid")
    make_wanted("Lemon", **{**pot, "species_key": "lemon"})
    make_wanted(
        "Straw",
        mulch_material="pine_straw",
        support="permanent",
        stock="bare_root",
        rootstock="M.9",
        caliper_mm=20.0,
    )
    browser = client_of(cast.viewer)
    bought = words(browser.get(at("planting_shopping", planting.public_id)))
    for part in (
        "Pots of 16 gal",
        "Potting mix for acid lovers",
        "Potting mix, soilless",
        "Mulch: pine straw",
        "bale of",
        "Posts for good",
        "European pear on M.9, bare root, trunk 0.79 in",
        "1 bag of 2 cu ft",
    ):
        assert part in bought, part
    sheets = words(browser.get(at("planting_sheet", planting.public_id)))
    assert "for a pot of 16 gal" in sheets
    assert "Take an acid mix" in sheets
