"""From a crown and a pot to whether it is too small, and to what it weighs."""

from django.utils.translation import gettext

from care.views.steps.step import Ledger


def fill(ledger: Ledger) -> None:
    """Add a hot day's demand, what the pot gives easily, and the weight when soaked."""
    ledger.add(
        gettext("What it drinks on a hot day in full leaf"),
        gettext("FAO-56 Eq. 58 on the crown's area"),
        "U = A · K_c · ET_0",
        terms=(
            ledger.term(
                "A",
                "crown_area_m2",
                gettext("area of the crown"),
                "m²",
                gettext("tree record"),
            ),
            ledger.term(
                "K_c",
                "kc_mid",
                gettext("crop coefficient in full leaf"),
                "",
                ledger.figure_origin("kc_mid"),
            ),
            ledger.term(
                "ET_0",
                "hot_et0_mm",
                gettext("a hot day's evaporation"),
                "mm",
                gettext("rule"),
            ),
        ),
        result=ledger.term("U", "hot_day_l", gettext("drunk in a day"), "L"),
        compute=lambda area, coefficient, et0: area * coefficient * et0,
    )
    ledger.add(
        gettext("What a full pot gives without stress"),
        gettext("FAO-56 Eq. 83 on the water a pot holds"),
        "R = p · C",
        terms=(
            ledger.term(
                "p",
                "depletion_p",
                gettext("part easily used"),
                "",
                ledger.figure_origin("depletion_p"),
            ),
            ledger.term(
                "C",
                "store_l",
                gettext("water held by the pot"),
                "L",
                gettext("water balance"),
            ),
        ),
        result=ledger.term("R", "easy_l", gettext("easily used"), "L"),
        compute=lambda part, store: part * store,
    )
    ledger.add(
        gettext("Weight when soaked, without the plant"),
        gettext("Kilograms a litre of wet medium, from memory"),
        "M = V · m",
        terms=(
            ledger.term(
                "V",
                "weighed_l",
                gettext("volume of the pot"),
                "L",
                gettext("tree record"),
            ),
            ledger.term(
                "m",
                "wet_kg_per_l",
                gettext("wet medium"),
                "kg/L",
                gettext("from memory"),
            ),
        ),
        result=ledger.term("M", "wet_weight_kg", gettext("weight"), "kg"),
        compute=lambda volume, density: volume * density,
    )
