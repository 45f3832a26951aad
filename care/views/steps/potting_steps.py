"""From a crown and a pot to whether it is too small, and to what it weighs."""

from care.views.steps.step import Ledger


def fill(ledger: Ledger) -> None:
    """Add a hot day's demand, what the pot gives easily, and the weight when soaked."""
    ledger.add(
        "What it drinks on a hot day in full leaf",
        "FAO-56 Eq. 58 on the crown's area",
        "U = A · K_c · ET_0",
        terms=(
            ledger.term("A", "crown_area_m2", "area of the crown", "m²", "tree record"),
            ledger.term(
                "K_c",
                "kc_mid",
                "crop coefficient in full leaf",
                "",
                ledger.figure_origin("kc_mid"),
            ),
            ledger.term("ET_0", "hot_et0_mm", "a hot day's evaporation", "mm", "rule"),
        ),
        result=ledger.term("U", "hot_day_l", "drunk in a day", "L"),
        compute=lambda area, coefficient, et0: area * coefficient * et0,
    )
    ledger.add(
        "What a full pot gives without stress",
        "FAO-56 Eq. 83 on the water a pot holds",
        "R = p · C",
        terms=(
            ledger.term(
                "p",
                "depletion_p",
                "part easily used",
                "",
                ledger.figure_origin("depletion_p"),
            ),
            ledger.term("C", "store_l", "water held by the pot", "L", "water balance"),
        ),
        result=ledger.term("R", "easy_l", "easily used", "L"),
        compute=lambda part, store: part * store,
    )
    ledger.add(
        "Weight when soaked, without the plant",
        "Kilograms a litre of wet medium, from memory",
        "M = V · m",
        terms=(
            ledger.term("V", "weighed_l", "volume of the pot", "L", "tree record"),
            ledger.term("m", "wet_kg_per_l", "wet medium", "kg/L", "from memory"),
        ),
        result=ledger.term("M", "wet_weight_kg", "weight", "kg"),
        compute=lambda volume, density: volume * density,
    )
