"""Every step has words, every figure a label, every source a reference."""

from datetime import date

import pytest

from care.facts import Stock, Support
from care.planning.planting_steps import (
    CAUTIONS as STEP_CAUTIONS,
    ORDER,
    RENAMED,
    SOURCES,
    Figure,
    Wish,
    steps_of,
)
from care.rules.planting import propose
from care.science.planting_amounts import FirstFeed, ring_of
from care.science.planting_checks import usual_backfill
from care.views.cautions import CAUTIONS
from care.views.check_lists import CHECKS
from care.views.planting_step_words import (
    TITLES,
    WHY,
    amount_of,
    figure_words,
    label_of,
    title_of_step,
)
from care.views.references import REFERENCES
from orchard.units import UnitSystem
from tests.care.rules.cases import MILD, morning, orange, species, tree

METRIC, US = UnitSystem.METRIC, UnitSystem.US


def wish(kind=None, *, backfill="", is_fed=False, site=MILD, **facts):
    usual = {"planted_on": date(2015, 3, 1), "stock_litres": 24.6}
    its_tree = tree(kind, **{**usual, "crown_width_m": None, **facts})
    return Wish(
        tree=its_tree,
        site=site,
        backfill=backfill or usual_backfill(its_tree.species),
        has_edging=True,
        mulch_material="straw",
        ring=ring_of(its_tree, 0.6, 75.0),
        feed=FirstFeed(10.0, 100.0) if is_fed else None,
        is_fed=is_fed,
    )


ACID = species("blueberry", feed_group="berry_acid", habit="shrub")
WISHES = {
    "container": wish(),
    "bare": wish(stock=Stock.BARE_ROOT, support=Support.STAKE),
    "balled": wish(stock=Stock.BALLED, backfill="compost"),
    "slow ground": wish(drainage_hours=40.0, support=Support.PERMANENT),
    "fig": wish(species("fig"), is_fed=True),
    "citrus": wish(orange(invasive_note="x", spacing_typical_m=4.0)),
    "acid": wish(ACID),
    "herb": wish(species("banana", habit="herb", mature_height_m=None)),
    "pot": wish(in_container=True, container_litres=60.0),
    "acid pot": wish(ACID, in_container=True, container_litres=60.0, is_fed=True),
}


def codes(name):
    return [step.code for step in steps_of(WISHES[name])]


def test_every_step_has_words_a_source_and_known_cautions():
    seen = {code for name in WISHES for code in codes(name)}
    assert seen == set(ORDER)
    assert set(TITLES) == set(WHY) == seen
    assert seen <= set(CHECKS)
    for one in WISHES.values():
        for step in steps_of(one):
            assert all(map(label_of, step.figures))
            assert set(step.sources) <= set(REFERENCES)
            assert set(step.cautions) <= set(CAUTIONS)
    assert set(SOURCES) <= seen
    assert set(STEP_CAUTIONS) <= seen
    assert title_of_step("odd_one") == "Odd one"


def test_the_steps_come_in_the_order_of_the_work():
    order = [
        *("locate", "distances", "lead", "plant_quarantine", "soil_test"),
        *("drainage", "flare_found", "circling_roots", "graft_above", "turf_ring"),
        *("hole_depth", "native_backfill", "no_feed_in_hole", "set_height"),
        *("settle_with_water", "edging", "trunk_guard", "mulch_ring"),
        *("stake_if_windy", "fruit_off", "label", "first_watering"),
    ]
    assert codes("container") == order


@pytest.mark.parametrize(
    ("name", "has", "has_not"),
    [
        ("bare", {"soak_roots", "head_back"}, {"circling_roots", "wire_burlap"}),
        ("balled", {"wire_burlap", "compost_backfill"}, {"native_backfill"}),
        ("slow ground", {"raised_mound", "permanent_post"}, {"stake_if_windy"}),
        ("fig", {"fig_deeper", "first_feed"}, {"set_height", "no_feed_in_hole"}),
        ("citrus", {"invasive"}, {"soak_roots"}),
        ("acid", {"acid_backfill"}, {"native_backfill"}),
        ("herb", {"hole_depth"}, {"trunk_guard", "flare_found"}),
        ("pot", {"drain_holes", "pot_height", "no_feed_month"}, {"locate", "edging"}),
        ("acid pot", {"acid_mix", "first_feed"}, {"no_feed_month", "drainage"}),
    ],
)
def test_what_is_different_about_some_plants(name, has, has_not):
    found = set(codes(name))
    assert has <= found
    assert not has_not & found


@pytest.mark.parametrize("name", [n for n in WISHES if n not in ("balled", "fig")])
def test_the_task_of_the_day_says_the_same(name):
    """Whatever the planting task lists stands on the sheet, with the same figures."""
    one = WISHES[name]
    task = next(
        each
        for each in propose(morning(date(2015, 2, 20), one.tree))
        if each.action == "plant"
    )
    checks = str(task.reason.fact("checks")).split()
    fed = {"no_feed_in_hole"} if one.is_fed else set()
    assert {RENAMED.get(code, code) for code in checks} - fed <= set(codes(name))
    figures = {
        figure.name: (figure.least, figure.most)
        for step in steps_of(one)
        for figure in step.figures
    }
    if not one.tree.in_container:
        fact = task.reason.fact
        hole = (fact("hole_width_m"), fact("hole_width_most_m"))
        assert figures["hole_width_m"] == pytest.approx(hole, abs=0.005)
        depth_m, _ = figures["hole_depth_m"]
        assert depth_m == pytest.approx(fact("hole_depth_m"), abs=0.005)
        water = (fact("settle_l"), fact("settle_most_l"))
        assert figures["water_l"] == pytest.approx(water, abs=0.05)


def test_amounts_in_both_units():
    hole = Figure("hole_width_m", 0.67, "m", 1.0)
    assert figure_words(hole, METRIC) == "0.67\N{EN DASH}1 m wide"
    assert figure_words(hole, US) == "2.2\N{EN DASH}3.3 ft wide"
    assert amount_of(Figure("ties", 2, ""), METRIC) == "2"
    assert amount_of(Figure("water_l", 5.0, "L", 5.0), METRIC) == "5 L"
    assert amount_of(Figure("water_l", 5.01, "L", 5.02), METRIC) == "5 L"
    assert amount_of(Figure("water_l", 0.05, "L", 5), METRIC) == "50 mL to 5 L"
