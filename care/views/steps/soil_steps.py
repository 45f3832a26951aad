"""From a rate of sulfur to grams and cups of it."""

from django.utils.translation import gettext

from care.views.steps.step import Ledger


def fill(ledger: Ledger) -> None:
    """Add the sulfur that a bed's ground takes, and how much a scoop holds."""
    mass = ledger.term("m", "task_amount", gettext("sulfur to give"), "g")
    is_planted = ledger.reason.number("limit_g_per_m2") is not None
    source = (
        gettext(
            "Extension Foundation: never above the yearly limit round planted bushes"
        )
        if is_planted
        else gettext("The smaller of Tennessee's and the Extension Foundation's rates")
    )
    ledger.add(
        gettext("Sulfur for the ground"),
        source,
        "m = r · A",
        terms=(
            ledger.term(
                "r", "sulfur_g_per_m2", gettext("rate of sulfur"), "g/m²", source
            ),
            ledger.term(
                "A",
                "area_m2",
                gettext("ground over the roots"),
                "m²",
                gettext("tree record"),
            ),
        ),
        result=mass,
        compute=lambda rate, area: rate * area,
    )
    ledger.add(
        gettext("By the cup, for want of a scale"),
        gettext("Mass over the weight of a measure"),
        "V = m / d",
        terms=(
            mass,
            ledger.term(
                "d",
                "density_g_per_ml",
                gettext("weight of ground sulfur"),
                "g/mL",
                gettext("Extension Foundation: 2.5 cups to the pound"),
            ),
        ),
        result=ledger.term("V", "volume_ml", gettext("sulfur"), "mL"),
        compute=lambda grams, density: grams / density,
    )
