"""From the size of a pot to the water that washes it."""

from django.utils.translation import gettext

from care.views.steps.step import Ledger


def fill(ledger: Ledger) -> None:
    """Add the water that runs through a pot."""
    ledger.add(
        gettext("Water to pour through"),
        gettext("Gardeners' practice, no study read: twice the volume of the pot"),
        "W = n · V",
        terms=(
            ledger.term(
                "n", "pot_volumes", gettext("volumes of the pot"), "", gettext("rule")
            ),
            ledger.term(
                "V",
                "pot_litres",
                gettext("volume of the pot"),
                "L",
                gettext("tree record"),
            ),
        ),
        result=ledger.term("W", "task_amount", gettext("plain water"), "L"),
        compute=lambda volumes, litres: volumes * litres,
    )
