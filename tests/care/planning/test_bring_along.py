"""What a walk's tasks take along: each thing once, amounts summed, in both units."""

import pytest

from care.models import Task
from care.planning.bring_along import BY_CAUTION, BY_WORK, Bring, Brought, bring_along
from care.views.bring_words import ALWAYS, NAMES, bring_lines
from care.views.cautions import CAUTIONS
from care.views.wording import TITLES
from orchard.units import UnitSystem


def task(kind, action, tree=1, amount=None, unit="", cautions=(), product=""):
    facts = [["product", product]] if product else []
    return Task(
        kind=kind,
        action=action,
        tree_id=tree,
        amount=amount,
        unit=unit,
        cautions=list(cautions),
        reason={"code": "x", "facts": facts},
    )


def brought(*tasks, in_us_sizes=False):
    pairs = [(one, dict(one.reason["facts"]).get("product", "")) for one in tasks]
    return bring_along(pairs, in_us_sizes=in_us_sizes)


def test_water_of_all_trees_is_one_sum():
    found = brought(
        task("watering", "water", 1, 18.0, "L"),
        task("watering", "water_by_leave", 2, 7.5, "L"),
        task("flushing", "flush", 3, 20.0, "L"),
    )
    assert found[0] == Brought(Bring.WATER, 3, 45.5, "L")
    assert [one.what for one in found] == [Bring.WATER, Bring.BUCKET]


def test_feed_is_summed_by_product():
    found = brought(
        task("feeding", "feed", 1, 480.0, "g", product="10-10-10"),
        task("feeding", "feed", 2, 300.0, "g", product="10-10-10"),
        task("feeding", "feed", 3, 90.0, "g", product="Blood meal"),
    )
    assert [(one.detail, one.amount) for one in found if one.what is Bring.FEED] == [
        ("10-10-10", 780.0),
        ("Blood meal", 90.0),
    ]


@pytest.mark.parametrize(
    ("in_us_sizes", "litres", "pieces"),
    [(False, 100.0, 2), (False, 100.5, 3), (True, 113.2, 2), (True, 120.0, 3)],
)
def test_mulch_is_told_in_whole_bags(in_us_sizes, litres, pieces):
    """Bags of 50 L, or of 2 cubic feet, 56.6 L (NIST SP 811, B.8: 28.316 85 L each)."""
    half = task("mulching", "top_up", 1, litres / 2, "L")
    other = task("mulching", "top_up", 2, litres / 2, "L")
    mulch = brought(half, other, in_us_sizes=in_us_sizes)[0]
    assert mulch.what is Bring.MULCH
    assert (mulch.amount, mulch.pieces) == (pytest.approx(litres), pieces)
    assert mulch.piece_l == (56.6 if in_us_sizes else 50.0)


def test_cautions_bring_ladder_saw_and_what_protects():
    found = brought(task("pruning", "prune", cautions=["ladder", "saw"]))
    assert [one.what for one in found] == [
        *(Bring.LADDER, Bring.SAW, Bring.SECATEURS, Bring.GLOVES, Bring.EYES)
    ]


def test_work_of_a_professional_takes_nothing_along():
    cautions = ["call_professional", "ladder", "saw"]
    assert brought(task("pruning", "prune", cautions=cautions)) == ()


def test_an_amount_in_another_unit_is_not_added_to_litres():
    found = brought(
        task("watering", "water", 1, 18.0, "L"), task("watering", "water", 2, 3.0, "mm")
    )
    assert found[0].amount == 18.0


def test_the_words_hold_amounts_in_the_readers_units():
    tasks = [
        task("watering", "water", 1, 18.0, "L"),
        task("watering", "water", 2, 18.0, "L"),
        task("feeding", "feed", 1, 1200.0, "g", product="10-10-10"),
        task("mulching", "top_up", 1, 90.0, "L"),
        task("cold", "cover", 1),
        task("cold", "cover", 2),
        task("harvest", "pick", 3),
    ]
    metric = bring_lines(tasks, UnitSystem.METRIC)
    assert metric[0] == "Water, with hose or cans: 36 L"
    assert metric[1] == "Feed: 1.2 kg of 10-10-10"
    assert metric[2] == "Mulch, loose: 90 L, 2 bags of 50 L"
    assert "Covers and pegs: for 2 trees" in metric
    assert metric[-1] == ALWAYS
    us = bring_lines(tasks, UnitSystem.US)
    assert us[0] == "Water, with hose or cans: 9.5 gal"
    assert us[2] == "Mulch, loose: 3.2 cu ft, 2 bags of 2 cu ft"
    assert bring_lines([], UnitSystem.METRIC) == ()


def test_only_known_work_and_cautions_are_named_and_all_things_have_words():
    assert set(BY_WORK) <= set(TITLES)
    assert set(BY_CAUTION) <= set(CAUTIONS)
    assert set(NAMES) == set(Bring)
