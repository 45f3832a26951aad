"""From the day's weather to litres to pour."""

from care.views.steps.step import Ledger


def fill(ledger: Ledger) -> None:
    """Add demand, stores, what is spare, and what to pour."""
    _demand(ledger)
    _stores(ledger)
    _pouring(ledger)


def _demand(ledger: Ledger) -> None:
    reason = ledger.reason
    guessed = reason.holds("crown_is_guess")
    crown = "guessed from age and species" if guessed else "crown width, as measured"
    ledger.add(
        "What the tree drinks on such a day",
        "FAO-56 Eq. 58, on the ground its crown covers; one mm on one m² is one litre",
        "U = Kc · ET0 · A",
        terms=(
            ledger.term(
                "Kc",
                "kc",
                "crop coefficient of the day",
                "",
                ledger.figure_origin("kc_mid"),
            ),
            ledger.term(
                "ET0",
                "et0_mm",
                "reference evapotranspiration",
                "mm/day",
                _weather_origin(ledger),
            ),
            ledger.term("A", "crown_area_m2", "ground under the crown", "m²", crown),
        ),
        result=ledger.term("U", "litres_per_day", "water it drinks", "L/day"),
        compute=lambda kc, et0, area: kc * et0 * area,
    )


def _weather_origin(ledger: Ledger) -> str:
    method = ledger.reason.text("method").replace("_", " ")
    kind = ledger.reason.text("source_kind")
    return f"{method or 'method unknown'}, from {kind or 'unknown'} weather"


def _stores(ledger: Ledger) -> None:
    store = ledger.term("C", "store_l", "water the watered soil holds", "L")
    share = ledger.term("p", "threshold", "share it may use without stress")
    ledger.add(
        "What it may use of the watered soil before it suffers",
        "FAO-56 Eq. 83, with p adjusted to the day's use by Table 22, footnote 2",
        "RAW = p · C",
        terms=(share, store),
        result=ledger.term("RAW", "threshold_l", "easily used there", "L"),
        compute=lambda p, c: p * c,
    )


def _pouring(ledger: Ledger) -> None:
    net = ledger.term("I", "net_l", "what the soil will be short of", "L")
    ledger.add(
        "Depth on the watered ground",
        "One litre on one m² is one mm",
        "d = I / A_w",
        terms=(
            net,
            ledger.term("A_w", "basin_area_m2", "watered ground", "m²", "tree record"),
        ),
        result=ledger.term("d", "depth_mm", "depth of water", "mm"),
        compute=lambda litres, area: litres / area,
    )
