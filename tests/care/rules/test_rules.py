"""The list of rules and what every rule must keep to."""

from datetime import date, timedelta
from pathlib import Path

from hypothesis import given, settings, strategies as st

import care.rules
from care.rules import RULES
from tests.care.rules.cases import (
    MILD,
    SHORT,
    WARM_SOUTH,
    minima,
    morning,
    orange,
    tree,
)


def test_every_rule_file_is_listed_by_its_name():
    folder = Path(care.rules.__file__).parent
    files = {path.stem for path in folder.glob("*.py")} - {"__init__"}
    assert {kind for kind, _ in RULES} == files
    assert [kind for kind, _ in RULES] == [
        "cold",
        "freeze",
        "heat",
        "watering",
        "feeding",
        "flushing",
        "soil",
        "weeding",
        "mulching",
        "pruning",
        "training",
        "suckers",
        "sanitation",
        "thinning",
        "harvest",
        "planting",
        "establishing",
        "potting",
        "inspection",
    ]


@given(
    day=st.dates(date(2014, 1, 1), date(2016, 12, 31)),
    entered_days_ago=st.integers(0, 800),
    low_c=st.floats(-20, 20),
    is_potted=st.booleans(),
    is_citrus=st.booleans(),
)
@settings(max_examples=80)
def test_proposals_are_named_once_and_say_why(
    day, entered_days_ago, low_c, *, is_potted, is_citrus
):
    its_tree = tree(
        orange() if is_citrus else None,
        entered_on=day - timedelta(days=entered_days_ago),
        in_container=is_potted,
        container_litres=40.0 if is_potted else None,
    )
    for site in (MILD, SHORT, WARM_SOUTH):
        situation = morning(day, its_tree, site, weather=minima(day, [low_c] * 3))
        for kind, propose in RULES:
            proposals = propose(situation)
            assert propose(situation) == proposals
            keys = [proposal.key for proposal in proposals]
            assert len(keys) == len(set(keys))
            assert all(proposal.kind == kind for proposal in proposals)
            assert all(proposal.reason.code for proposal in proposals)
