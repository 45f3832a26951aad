"""From bloom to a crop."""

from django.utils.translation import gettext

from care.views.steps.step import Ledger


def fill(ledger: Ledger) -> None:
    """Add the share of an orchard tree's yield that this crown can carry."""
    ledger.add(
        gettext("What it may bear"),
        gettext(
            "An orchard tree's yield times the share of its crown held now, and "
            "what its own pickings say beside it, between a half and twice"
        ),
        "Y = Y_full · s · h",
        terms=(
            ledger.term(
                "Y_full",
                "orchard_tree_kg",
                gettext("an orchard tree's yield"),
                "kg",
                ledger.figure_origin("yield_mature_kg"),
            ),
            ledger.term(
                "s",
                "crown_share",
                gettext("share of the full crown"),
                "",
                gettext("crown width"),
            ),
            ledger.term(
                "h",
                "yield_factor",
                gettext("what its pickings say"),
                "",
                gettext("harvests of yours"),
            ),
        ),
        result=ledger.term("Y", "expected_kg", gettext("expected this season"), "kg"),
        compute=lambda full, share, learned: full * share * learned,
    )
