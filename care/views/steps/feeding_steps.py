"""From the species' nitrogen to grams of product."""

from care.views.steps.step import Ledger

BASES = {
    "canopy": "from the crown as measured",
    "age": "from the years since planting",
    "pot": "from the pot's volume",
}


def fill(ledger: Ledger) -> None:
    """Add the season's nitrogen, one feeding's part, and the product it takes."""
    splits = ledger.term(
        "k", "splits", "feedings in the season", origin="species table"
    )
    season = ledger.term("N", "season_nitrogen_g", "nitrogen of the season", "g")
    part = ledger.term("n", "nitrogen_g", "nitrogen this time", "g")
    given = ledger.term(
        "G", "given_nitrogen_g", "nitrogen given so far", "g", "from the log"
    )
    ledger.add(
        "This feeding's part of the season",
        "Equal parts, never more than is left",
        "n = min(N / k, N - G)",
        terms=(season, splits, given),
        result=part,
        compute=lambda n, k, g: min(n / k, n - g),
    )
    percent = ledger.term(
        "P", "nitrogen_percent", "nitrogen in the product", "%", "site settings"
    )
    ledger.add(
        "The product that holds it",
        "Label arithmetic: nitrogen over its share of the product",
        "m = 100 n / P",
        terms=(part, percent),
        result=ledger.term("m", "product_g", "product to spread", "g"),
        compute=lambda n, p: 100 * n / p,
    )
    ledger.add(
        "Beside the canopy it feeds",
        "Nitrogen over the ground the crown covers",
        "d = n / A",
        terms=(
            part,
            ledger.term(
                "A", "canopy_m2", "ground under the crown", "m²", "crown width"
            ),
        ),
        result=ledger.term("d", "nitrogen_g_per_m2", "nitrogen per area", "g/m²"),
        compute=lambda n, a: n / a,
    )
