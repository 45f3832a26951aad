"""From the day's weather to litres to pour."""

from care.views.steps.step import Ledger, Term

METHODS = {
    "penman_monteith": "Penman-Monteith, FAO-56 Eq. 6",
    "hargreaves": "Hargreaves, FAO-56 Eq. 52",
    "given": "as the weather source gave it",
}


def fill(ledger: Ledger) -> None:
    """Add demand, stores, what is spare, and what to pour."""
    _demand(ledger)
    _in_rows(ledger)
    _share_to_use(ledger)
    _stores(ledger)
    _moved(ledger)
    _pouring(ledger)


def _et0(ledger: Ledger) -> Term | None:
    method = METHODS.get(ledger.reason.text("method"), "method unknown")
    low, high = ledger.reason.number("tmin_c"), ledger.reason.number("tmax_c")
    day = (
        ""
        if low is None or high is None
        else f" of a day of {low:.1f} to {high:.1f} °C"
    )
    bias = (
        "; runs about a quarter low on humid or windy coasts"
        if ledger.reason.holds("method_may_run_low")
        else ""
    )
    return ledger.term(
        "ET_0",
        "et0_mm",
        "reference evapotranspiration where it stands",
        "mm/day",
        f"{method}{day}{bias}",
    )


def _kc(ledger: Ledger) -> Term | None:
    stage = ledger.reason.text("season_stage")
    adjusted = (
        ", adjusted to the place's wind and humidity by Eq. 62"
        if ledger.reason.holds("is_kc_climate_adjusted")
        else ""
    )
    factor = ledger.reason.number("stock_factor")
    stock = (
        f", times {factor:g} for the way it came"
        if factor is not None and factor != 1
        else ""
    )
    origin = ledger.figure_origin("kc_ini", "kc_mid", "kc_end")
    return ledger.term(
        "K_c",
        "kc",
        f"crop coefficient, {stage or 'unknown'} stage",
        "",
        f"{origin}{adjusted}{stock}",
    )


def _demand(ledger: Ledger) -> None:
    guessed = ledger.reason.holds("crown_is_guess")
    answers = ledger.reason.number("demand_answers") or 0
    ledger.add(
        "What the tree drinks on such a day",
        "FAO-56 Eq. 58 on the ground its crown covers, and what bare soil gives off; "
        "one mm on one m² is one litre. Trees that share their soil share it equally",
        "U = ET_0 · (f · K_c · A · w + E) / n",
        terms=(
            _et0(ledger),
            ledger.term(
                "f",
                "demand_factor",
                "what answers taught of its thirst",
                "",
                f"{answers:.0f} answers of yours" if answers else "nothing learned yet",
            ),
            _kc(ledger),
            ledger.term(
                "A",
                "crown_area_m2",
                "ground under the crown",
                "m²",
                "guessed from age and species"
                if guessed
                else "crown width, as measured",
            ),
            ledger.term(
                "w", "winter_share", "what frost or cold leaves of it", "", "rule"
            ),
            ledger.term(
                "E",
                "bare_soil_m2",
                "bare watered soil times what it gives off",
                "m²",
                "rule, less under mulch",
            ),
            ledger.term(
                "n", "clump_size", "trees that share the soil", "", "tree record"
            ),
        ),
        result=ledger.term("U", "litres_per_day", "water it drinks", "L/day"),
        compute=lambda et0, f, kc, area, w, bare, n: (
            et0 * (f * kc * area * w + bare) / n
        ),
    )


def _in_rows(ledger: Ledger) -> None:
    ledger.add(
        "Beside it: the same tree by a grown orchard's floor",
        "For trees in rows: FAO-56's coefficient speaks of the whole floor, so it goes "
        "with the ground between trees and with twice the cover, as Eq. 98 bounds it. "
        "A tree's use lies between this and the crown's; the two are never added",
        "U_rows = ET_0 · K_c · A_s · min(2 · f_c, 1)",
        terms=(
            _et0(ledger),
            _kc(ledger),
            ledger.term(
                "A_s", "spacing_m2", "ground of one tree", "m²", "spacing, squared"
            ),
            ledger.term("f_c", "crown_cover", "share of it under the crown"),
        ),
        result=ledger.term(
            "U_rows", "in_rows_litres_per_day", "water by the floor", "L/day"
        ),
        compute=lambda et0, kc, area, cover: et0 * kc * area * min(2 * cover, 1),
    )


def _share_to_use(ledger: Ledger) -> None:
    ledger.add(
        "The share of its water it may use without stress",
        "FAO-56 Table 22, footnote 2, between 0.1 and 0.8",
        "p = p_table + 0.04 · (5 - K_c · ET_0)",
        terms=(
            ledger.term(
                "p_table",
                "depletion_p_table",
                "share at 5 mm a day",
                "",
                ledger.figure_origin("depletion_p"),
            ),
            _kc(ledger),
            _et0(ledger),
        ),
        result=ledger.term("p", "threshold", "share on such a day"),
        compute=lambda p, kc, et0: min(max(p + 0.04 * (5 - kc * et0), 0.1), 0.8),
    )


def _store_origin(ledger: Ledger) -> str:
    kind = ledger.reason.text("store_kind") or "soil"
    depth = ledger.reason.number("root_depth_m")
    holds = ledger.reason.number("available_mm_per_m")
    volume = ledger.reason.number("pot_l") or ledger.reason.number("ball_l")
    parts = [kind]
    if volume is not None:
        parts.append(f"of {volume:.3g} L")
    if depth is not None:
        parts.append(f"{depth:.2g} m deep")
    if holds is not None and depth is not None:
        soil = ledger.reason.text("soil_texture").replace("_", " ")
        parts.append(f"{soil} holding {holds:.3g} mm a metre (FAO-56 Table 19)")
    return ", ".join(parts)


def _stores(ledger: Ledger) -> None:
    share = ledger.term("p", "threshold", "share it may use")
    inner = ledger.term(
        "C_1", "store_l", "water the watered soil holds", "L", _store_origin(ledger)
    )
    outer = ledger.term(
        "C_2",
        "outer_store_l",
        "water other soil within reach holds",
        "L",
        "roots beyond what is watered",
    )
    ledger.add(
        "What it may use before it suffers",
        "FAO-56 Eq. 83, for both stores",
        "RAW = p · (C_1 + C_2)",
        terms=(share, inner, outer),
        result=ledger.term("RAW", "readily_available_l", "easily used water", "L"),
        compute=lambda p, c1, c2: p * (c1 + c2),
    )
    ledger.add(
        "What is left of that this morning",
        "Each store for itself: dry soil beyond never counts against the tree. Water is "
        "due when this no longer covers a day, and half of it is gone",
        "S = max(p · C_1 - D_1, 0) + max(p · C_2 - D_2, 0)",
        terms=(
            share,
            inner,
            ledger.term(
                "D_1",
                "missing_after_rain_l",
                "missing there, today's rain counted",
                "L",
                "daily balance, FAO-56 Eq. 85 and 86, from the log and the weather",
            ),
            outer,
            ledger.term(
                "D_2",
                "outer_missing_after_rain_l",
                "missing beyond",
                "L",
                "daily balance",
            ),
        ),
        result=ledger.term("S", "spare_l", "left before it suffers", "L"),
        compute=lambda p, c1, d1, c2, d2: max(p * c1 - d1, 0) + max(p * c2 - d2, 0),
    )


def _moved(ledger: Ledger) -> None:
    ledger.add(
        "What the soil is short of on the day the local rule allows",
        "Reckoned on from the best day by what it uses a day; no more than the soil "
        "holds",
        "I = min(I_best + u · n, C)",
        terms=(
            ledger.term(
                "I_best",
                "rule_net_due_l",
                "short of on the best day",
                "L",
                "daily balance",
            ),
            ledger.term(
                "u",
                "rule_use_litres_per_day",
                "what goes a day until then",
                "L/day",
                "daily balance",
            ),
            ledger.term(
                "n",
                "rule_days_moved",
                "days from the best day to the allowed one",
                "days",
                "local watering rule",
            ),
            ledger.term(
                "C",
                "rule_capacity_l",
                "what the soil holds",
                "L",
                _store_origin(ledger),
            ),
        ),
        result=ledger.term("I", "net_l", "what the soil will be short of", "L"),
        compute=lambda best, use, days, most: min(best + use * days, most),
    )


def _pouring(ledger: Ledger) -> None:
    net = ledger.term("I", "net_l", "what the soil will be short of that day", "L")
    leaches = ledger.reason.number("leaching_fraction") is not None
    ledger.add(
        "What to pour",
        "In a pot some runs out below and carries salts away (UF/IFAS EP529); in the "
        "ground some misses the roots. Rounded up to what a person can measure",
        "G = I / e",
        terms=(
            net,
            ledger.term(
                "e",
                "efficiency",
                "share that stays",
                "",
                "one less the leaching fraction" if leaches else "rule, hand watering",
            ),
        ),
        result=ledger.term("G", "gross_l", "to pour", "L"),
        compute=lambda litres, share: litres / share,
    )
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
