"""From the size of a pot to the water that washes it."""

from care.views.steps.step import Ledger


def fill(ledger: Ledger) -> None:
    """Add the water that runs through a pot."""
    ledger.add(
        "Water to pour through",
        "Gardeners' practice, no study read: twice the volume of the pot",
        "W = n · V",
        terms=(
            ledger.term("n", "pot_volumes", "volumes of the pot", "", "rule"),
            ledger.term("V", "pot_litres", "volume of the pot", "L", "tree record"),
        ),
        result=ledger.term("W", "task_amount", "plain water", "L"),
        compute=lambda volumes, litres: volumes * litres,
    )
