"""Places in words: every reason has its sentence, shares are said as people say them."""

from fractions import Fraction

import pytest

from care.actions.place_changes import Trouble, Why
from care.planning.place_rules import Against, Stop
from care.views.place_words import (
    AGAINST_WORDS,
    STOP_WORDS,
    against_words,
    count_words,
    share_words,
    stop_words,
)
from orchard.actions.messages import Told
from orchard.forms.messages import TOLD_WORDS
from orchard.views.trail_words import WHAT_WORDS

#: What a place, its hand-over or a coordinator may never be called.
AVOIDED = ("slot", "gig", "score", "point", "rank", "penal", "auto", "resource")


def test_every_reason_message_and_change_has_words_and_none_that_ranks():
    assert set(STOP_WORDS) == {*Stop, *Trouble}
    assert set(AGAINST_WORDS) == set(Against)
    assert set(TOLD_WORDS) == set(Told)
    assert {f"place_{why}" for why in Why} <= set(WHAT_WORDS)
    said = [*STOP_WORDS.values(), *AGAINST_WORDS.values(), *TOLD_WORDS.values()]
    text = " ".join(map(str, said)).lower()
    assert [word for word in AVOIDED if word in text] == []


def test_reasons_come_as_sentences():
    assert stop_words([Trouble.QUICKER]) == "Somebody was quicker: this place is taken."
    assert stop_words([Stop.NO_SKILL, Stop.SAME_DAY]).count(".") == 2
    assert against_words([]) == ""
    assert against_words([Against.WEEK_FULL, Against.SEASON_FULL]) == (
        "Note: it is more than you wanted in one week and it is more than you wanted "
        "this season."
    )


@pytest.mark.parametrize(
    ("done", "fair", "expected"),
    [
        (Fraction(4), Fraction(14, 3), "You: 4 of about 5 this season."),
        (Fraction(9, 2), Fraction(1, 9), "You: 4½ of about 1 this season."),
        (Fraction(1, 2), None, "You: ½ shifts this season."),
        (Fraction(1), None, "You: 1 shift this season."),
        (Fraction(0), None, "You: 0 shifts this season."),
    ],
)
def test_a_share_is_said_without_a_fraction_of_it(done, fair, expected):
    assert share_words(done, fair) == expected
    assert count_words(Fraction(0)) == "0"
