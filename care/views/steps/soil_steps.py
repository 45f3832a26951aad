"""From a rate of sulfur to grams and cups of it."""

from care.views.steps.step import Ledger


def fill(ledger: Ledger) -> None:
    """Add the sulfur that a bed's ground takes, and how much a scoop holds."""
    mass = ledger.term("m", "task_amount", "sulfur to give", "g")
    is_planted = ledger.reason.number("limit_g_per_m2") is not None
    source = (
        "Extension Foundation: never above the yearly limit round planted bushes"
        if is_planted
        else "The smaller of Tennessee's and the Extension Foundation's rates"
    )
    ledger.add(
        "Sulfur for the ground",
        source,
        "m = r · A",
        terms=(
            ledger.term("r", "sulfur_g_per_m2", "rate of sulfur", "g/m²", source),
            ledger.term("A", "area_m2", "ground over the roots", "m²", "tree record"),
        ),
        result=mass,
        compute=lambda rate, area: rate * area,
    )
    ledger.add(
        "By the cup, for want of a scale",
        "Mass over the weight of a measure",
        "V = m / d",
        terms=(
            mass,
            ledger.term(
                "d",
                "density_g_per_ml",
                "weight of ground sulfur",
                "g/mL",
                "Extension Foundation: 2.5 cups to the pound",
            ),
        ),
        result=ledger.term("V", "volume_ml", "sulfur", "mL"),
        compute=lambda grams, density: grams / density,
    )
