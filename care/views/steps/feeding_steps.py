"""From the species' nitrogen to grams of product."""

from django.utils.translation import gettext, gettext_noop

from care.views.steps.step import Ledger, Term

SHARES = {
    "crown": gettext_noop("crown area now over that of a full-grown tree"),
    "years": gettext_noop("years since planting, as the crown is not measured"),
    "pot": gettext_noop("the first year's amount, as neither crown nor age is known"),
}


def fill(ledger: Ledger) -> None:
    """Add the season's nitrogen, one feeding's part, and the product it takes."""
    season = ledger.term(
        "N", "season_nitrogen_g", gettext("nitrogen of the season"), "g"
    )
    part = ledger.term("n", "nitrogen_g", gettext("nitrogen this time"), "g")
    _season(ledger, season)
    _part(ledger, season, part)
    _product(ledger, part)
    ledger.add(
        gettext("Beside the canopy it feeds"),
        gettext("Nitrogen over the ground the crown covers"),
        "d = n / A",
        terms=(
            part,
            ledger.term(
                "A",
                "canopy_m2",
                gettext("ground under the crown"),
                "m²",
                gettext("crown width"),
            ),
        ),
        result=ledger.term(
            "d", "nitrogen_g_per_m2", gettext("nitrogen per area"), "g/m²"
        ),
        compute=lambda n, a: n / a,
    )


def _season(ledger: Ledger, season: Term | None) -> None:
    basis = ledger.reason.text("share_basis")
    terms = [
        ledger.term(
            "N_1",
            "first_year_nitrogen_g",
            gettext("nitrogen in the first year"),
            "g",
            ledger.figure_origin("nitrogen_first_year_g"),
        ),
        ledger.term(
            "N_full",
            "full_nitrogen_g",
            gettext("nitrogen of a full-grown tree"),
            "g",
            ledger.figure_origin("nitrogen_mature_g"),
        ),
        ledger.term(
            "s",
            "share_of_full",
            gettext("share of the way"),
            "",
            gettext(SHARES.get(basis, basis)),
        ),
        ledger.term(
            "q",
            "soil_share",
            gettext("for the soil of the place"),
            "",
            gettext("site settings"),
        ),
        ledger.term(
            "g",
            "growth_share",
            gettext("for last year's shoots"),
            "",
            gettext("shoots measured"),
        ),
        ledger.term(
            "t",
            "tested_share",
            gettext("for the soil test"),
            "",
            gettext("site settings"),
        ),
        ledger.term(
            "c",
            "clump_size",
            gettext("trees that share the soil"),
            "",
            gettext("tree record"),
        ),
    ]
    title = gettext("The season's nitrogen for what it holds now")
    source = gettext(
        "Between the species' first and full amounts by the canopy it holds now"
    )
    if ledger.reason.number("pot_cap_g") is None:
        ledger.add(
            title,
            source,
            "N = (N_1 + (N_full - N_1) · s) · q · g · t / c",
            terms=terms,
            result=season,
            compute=lambda n1, full, s, q, g, t, c: (
                (n1 + (full - n1) * s) * q * g * t / c
            ),
        )
        return
    cap = ledger.term(
        "cap", "pot_cap_g", gettext("most for a pot of this size"), "g", gettext("rule")
    )
    ledger.add(
        title,
        source,
        "N = min(N_1 + (N_full - N_1) · s, cap) · q · g · t / c",
        terms=(*terms, cap),
        result=season,
        compute=lambda n1, full, s, q, g, t, c, cap: (
            min(n1 + (full - n1) * s, cap) * q * g * t / c
        ),
    )


def _part(ledger: Ledger, season: Term | None, part: Term | None) -> None:
    ledger.add(
        gettext("This feeding's part of it"),
        gettext("Equal parts, never more than is left"),
        "n = min(N / k, N - G)",
        terms=(
            season,
            ledger.term(
                "k",
                "splits",
                gettext("feedings in the season"),
                "",
                gettext("species table"),
            ),
            ledger.term(
                "G",
                "given_nitrogen_g",
                gettext("nitrogen given so far"),
                "g",
                gettext("from the log"),
            ),
        ),
        result=part,
        compute=lambda n, k, g: min(n / k, n - g),
    )


def _product(ledger: Ledger, part: Term | None) -> None:
    mass = ledger.term("m", "product_g", gettext("product to spread"), "g")
    ledger.add(
        gettext("The product that holds it"),
        gettext("Label arithmetic: nitrogen over its share of the product"),
        "m = 100 · n / P",
        terms=(
            part,
            ledger.term(
                "P",
                "nitrogen_percent",
                gettext("nitrogen in the product"),
                "%",
                gettext("site settings"),
            ),
        ),
        result=mass,
        compute=lambda n, p: 100 * n / p,
    )
    weighed = ledger.reason.holds("is_density_weighed")
    ledger.add(
        gettext("By the cup, for want of a scale"),
        gettext("Mass over the weight of a measure"),
        "V = m / r",
        terms=(
            mass,
            ledger.term(
                "r",
                "density_g_per_ml",
                gettext("weight of the product"),
                "g/mL",
                gettext("as you weighed it")
                if weighed
                else gettext("about two cups to the pound"),
            ),
        ),
        result=ledger.term("V", "volume_ml", gettext("product"), "mL"),
        compute=lambda grams, density: grams / density,
    )
