"""Until when fruit waits, in words."""

from datetime import date

from care.facts import Hold, HoldCause
from care.views.hold_words import hold_words, no_picking_words

TODAY = date(2025, 7, 2)
SOAP = Hold(1, HoldCause.SPRAY, date(2025, 7, 1), date(2025, 7, 7), "Soap")
MANURE = Hold(1, HoldCause.MANURE, date(2025, 6, 20), date(2025, 9, 17))


def test_fruit_may_be_picked_on_the_day_after_the_last_one_held():
    assert no_picking_words(date(2025, 7, 7), TODAY) == "Do not pick before 8 July"
    assert no_picking_words(date(2025, 12, 31), TODAY).endswith("1 January 2026")


def test_a_spray_is_named_as_its_label_names_it():
    assert hold_words([SOAP], 1, TODAY) == (
        "Do not pick before 8 July: Soap was sprayed yesterday, and its label has "
        "fruit wait."
    )


def test_the_longest_wait_is_told():
    assert hold_words([MANURE, SOAP], 1, TODAY) == (
        "Do not pick before 18 September: raw manure was spread on 20 June."
    )


def test_another_trees_wait_or_one_that_is_over_is_not_told():
    assert hold_words([SOAP], 2, TODAY) == ""
    assert hold_words([SOAP], 1, date(2025, 7, 8)) == ""
    assert hold_words([], 1, TODAY) == ""
