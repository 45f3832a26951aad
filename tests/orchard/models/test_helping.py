"""Skills as people type them, and what was said of days."""

import pytest
from hypothesis import given, strategies as st

from orchard.models import is_hazard_skill, skill_named, skill_words


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("Ladders", "ladder"),
        ("first  AID", "first_aid"),
        ("first_aid", "first_aid"),
        (" Grafting ", "grafting"),
        ("  ", ""),
    ],
)
def test_a_typed_skill_is_kept_one_way(typed, kept):
    assert skill_named(typed) == kept


@given(st.text(max_size=30))
def test_a_kept_skill_is_read_and_typed_again_as_itself(text):
    kept = skill_named(text)
    assert skill_named(kept) == kept
    assert skill_named(skill_words(kept)) == skill_named(kept.capitalize())


@pytest.mark.parametrize(
    ("skill", "is_hazard"),
    [
        ("ladder", True),
        ("saw", True),
        ("spray", True),
        ("chainsaw", True),
        ("tripod ladders", True),
        ("sawing", True),
        ("spraying", True),
        ("pesticide licence", True),
        ("first_aid", False),
        ("grafting", False),
        ("spreading sawdust", False),
    ],
)
def test_typed_skills_of_the_same_dangers_are_known(skill, is_hazard):
    assert is_hazard_skill(skill) is is_hazard
