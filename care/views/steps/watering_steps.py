"""From the day's weather to litres to pour."""

from django.utils.translation import gettext, gettext_noop, pgettext_lazy

from care.views.steps.step import Ledger, Term
from orchard.languages import localised
from orchard.models.places import SoilTexture

METHODS = {
    "penman_monteith": gettext_noop("Penman-Monteith, FAO-56 Eq. 6"),
    "hargreaves": gettext_noop("Hargreaves, FAO-56 Eq. 52"),
    "given": gettext_noop("as the weather source gave it"),
}
UNKNOWN_METHOD = gettext_noop("method unknown")
#: The stages of a crop's year, as FAO-56 has them.
STAGES = {
    "initial": gettext_noop("crop coefficient, initial stage"),
    "development": gettext_noop("crop coefficient, development stage"),
    "middle": gettext_noop("crop coefficient, middle stage"),
    "late": gettext_noop("crop coefficient, late stage"),
    "leafless": gettext_noop("crop coefficient, leafless stage"),
}
UNKNOWN_STAGE = gettext_noop("crop coefficient, unknown stage")
STORES = {
    "pot": pgettext_lazy("what holds a tree's water", "pot"),
    "basin": pgettext_lazy("what holds a tree's water", "basin"),
    "ball": pgettext_lazy("what holds a tree's water", "ball"),
    "soil": pgettext_lazy("what holds a tree's water", "soil"),
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
    method = gettext(METHODS.get(ledger.reason.text("method"), UNKNOWN_METHOD))
    low, high = ledger.reason.number("tmin_c"), ledger.reason.number("tmax_c")
    day = (
        ""
        if low is None or high is None
        else (
            " "
            + gettext("of a day of {low} to {high} °C").format(
                low=localised(f"{low:.1f}"), high=localised(f"{high:.1f}")
            )
        )
    )
    bias = (
        gettext("; runs about a quarter low on humid or windy coasts")
        if ledger.reason.holds("method_may_run_low")
        else ""
    )
    return ledger.term(
        "ET_0",
        "et0_mm",
        gettext("reference evapotranspiration where it stands"),
        "mm/day",
        f"{method}{day}{bias}",
    )


def _kc(ledger: Ledger) -> Term | None:
    stage = ledger.reason.text("season_stage")
    adjusted = (
        gettext(", adjusted to the place's wind and humidity by Eq. 62")
        if ledger.reason.holds("is_kc_climate_adjusted")
        else ""
    )
    factor = ledger.reason.number("stock_factor")
    stock = (
        gettext(", times {factor} for the way it came").format(
            factor=localised(f"{factor:g}")
        )
        if factor is not None and factor != 1
        else ""
    )
    origin = ledger.figure_origin("kc_ini", "kc_mid", "kc_end")
    return ledger.term(
        "K_c",
        "kc",
        gettext(STAGES.get(stage, UNKNOWN_STAGE)),
        "",
        f"{origin}{adjusted}{stock}",
    )


def _answers(number: float) -> str:
    if not number:
        return gettext("nothing learned yet")
    return gettext("{number} answers of yours").format(number=f"{number:.0f}")


def _demand(ledger: Ledger) -> None:
    guessed = ledger.reason.holds("crown_is_guess")
    answers = ledger.reason.number("demand_answers") or 0
    ledger.add(
        gettext("What the tree drinks on such a day"),
        gettext(
            "FAO-56 Eq. 58 on the ground its crown covers, and what bare soil gives "
            "off; one mm on one m² is one litre. Trees that share their soil share "
            "it equally"
        ),
        "U = ET_0 · (f · K_c · A · w + E) / n",
        terms=(
            _et0(ledger),
            ledger.term(
                "f",
                "demand_factor",
                gettext("what answers taught of its thirst"),
                "",
                _answers(answers),
            ),
            _kc(ledger),
            ledger.term(
                "A",
                "crown_area_m2",
                gettext("ground under the crown"),
                "m²",
                gettext("guessed from age and species")
                if guessed
                else gettext("crown width, as measured"),
            ),
            ledger.term(
                "w",
                "winter_share",
                gettext("what frost or cold leaves of it"),
                "",
                gettext("rule"),
            ),
            ledger.term(
                "E",
                "bare_soil_m2",
                gettext("bare watered soil times what it gives off"),
                "m²",
                gettext("rule, less under mulch"),
            ),
            ledger.term(
                "n",
                "clump_size",
                gettext("trees that share the soil"),
                "",
                gettext("tree record"),
            ),
        ),
        result=ledger.term("U", "litres_per_day", gettext("water it drinks"), "L/day"),
        compute=lambda et0, f, kc, area, w, bare, n: (
            et0 * (f * kc * area * w + bare) / n
        ),
    )


def _in_rows(ledger: Ledger) -> None:
    ledger.add(
        gettext("Beside it: the same tree by a grown orchard's floor"),
        gettext(
            "For trees in rows: FAO-56's coefficient speaks of the whole floor, so "
            "it goes with the ground between trees and with twice the cover, as Eq. "
            "98 bounds it. A tree's use lies between this and the crown's; the two "
            "are never added"
        ),
        "U_rows = ET_0 · K_c · A_s · min(2 · f_c, 1)",
        terms=(
            _et0(ledger),
            _kc(ledger),
            ledger.term(
                "A_s",
                "spacing_m2",
                gettext("ground of one tree"),
                "m²",
                gettext("spacing, squared"),
            ),
            ledger.term("f_c", "crown_cover", gettext("share of it under the crown")),
        ),
        result=ledger.term(
            "U_rows", "in_rows_litres_per_day", gettext("water by the floor"), "L/day"
        ),
        compute=lambda et0, kc, area, cover: et0 * kc * area * min(2 * cover, 1),
    )


def _share_to_use(ledger: Ledger) -> None:
    ledger.add(
        gettext("The share of its water it may use without stress"),
        gettext("FAO-56 Table 22, footnote 2, between 0.1 and 0.8"),
        "p = p_table + 0.04 · (5 - K_c · ET_0)",
        terms=(
            ledger.term(
                "p_table",
                "depletion_p_table",
                gettext("share at 5 mm a day"),
                "",
                ledger.figure_origin("depletion_p"),
            ),
            _kc(ledger),
            _et0(ledger),
        ),
        result=ledger.term("p", "threshold", gettext("share on such a day")),
        compute=lambda p, kc, et0: min(max(p + 0.04 * (5 - kc * et0), 0.1), 0.8),
    )


def _store_origin(ledger: Ledger) -> str:
    kind = ledger.reason.text("store_kind") or "soil"
    depth = ledger.reason.number("root_depth_m")
    holds = ledger.reason.number("available_mm_per_m")
    volume = ledger.reason.number("pot_l") or ledger.reason.number("ball_l")
    parts = [str(STORES[kind]) if kind in STORES else kind]
    if volume is not None:
        parts.append(gettext("of {volume} L").format(volume=localised(f"{volume:.3g}")))
    if depth is not None:
        parts.append(gettext("{depth} m deep").format(depth=localised(f"{depth:.2g}")))
    if holds is not None and depth is not None:
        texture = ledger.reason.text("soil_texture")
        soil = texture.replace("_", " ")
        if texture in SoilTexture.values:
            soil = str(SoilTexture(texture).label).lower()
        parts.append(
            gettext("{soil} holding {holds} mm a metre (FAO-56 Table 19)").format(
                soil=soil, holds=localised(f"{holds:.3g}")
            )
        )
    return ", ".join(parts)


def _stores(ledger: Ledger) -> None:
    share = ledger.term("p", "threshold", gettext("share it may use"))
    inner = ledger.term(
        "C_1",
        "store_l",
        gettext("water the watered soil holds"),
        "L",
        _store_origin(ledger),
    )
    outer = ledger.term(
        "C_2",
        "outer_store_l",
        gettext("water other soil within reach holds"),
        "L",
        gettext("roots beyond what is watered"),
    )
    ledger.add(
        gettext("What it may use before it suffers"),
        gettext("FAO-56 Eq. 83, for both stores"),
        "RAW = p · (C_1 + C_2)",
        terms=(share, inner, outer),
        result=ledger.term(
            "RAW", "readily_available_l", gettext("easily used water"), "L"
        ),
        compute=lambda p, c1, c2: p * (c1 + c2),
    )
    ledger.add(
        gettext("What is left of that this morning"),
        gettext(
            "Each store for itself: dry soil beyond never counts against the tree. "
            "Water is due when this no longer covers a day, and half of it is gone"
        ),
        "S = max(p · C_1 - D_1, 0) + max(p · C_2 - D_2, 0)",
        terms=(
            share,
            inner,
            ledger.term(
                "D_1",
                "missing_after_rain_l",
                gettext("missing there, today's rain counted"),
                "L",
                gettext(
                    "daily balance, FAO-56 Eq. 85 and 86, from the log and the weather"
                ),
            ),
            outer,
            ledger.term(
                "D_2",
                "outer_missing_after_rain_l",
                gettext("missing beyond"),
                "L",
                gettext("daily balance"),
            ),
        ),
        result=ledger.term("S", "spare_l", gettext("left before it suffers"), "L"),
        compute=lambda p, c1, d1, c2, d2: max(p * c1 - d1, 0) + max(p * c2 - d2, 0),
    )


def _moved(ledger: Ledger) -> None:
    ledger.add(
        gettext("What the soil is short of on the day the local rule allows"),
        gettext(
            "Reckoned on from the best day by what it uses a day; no more than the "
            "soil holds"
        ),
        "I = min(I_best + u · n, C)",
        terms=(
            ledger.term(
                "I_best",
                "rule_net_due_l",
                gettext("short of on the best day"),
                "L",
                gettext("daily balance"),
            ),
            ledger.term(
                "u",
                "rule_use_litres_per_day",
                gettext("what goes a day until then"),
                "L/day",
                gettext("daily balance"),
            ),
            ledger.term(
                "n",
                "rule_days_moved",
                gettext("days from the best day to the allowed one"),
                "days",
                gettext("local watering rule"),
            ),
            ledger.term(
                "C",
                "rule_capacity_l",
                gettext("what the soil holds"),
                "L",
                _store_origin(ledger),
            ),
        ),
        result=ledger.term(
            "I", "net_l", gettext("what the soil will be short of"), "L"
        ),
        compute=lambda best, use, days, most: min(best + use * days, most),
    )


def _pouring(ledger: Ledger) -> None:
    net = ledger.term(
        "I", "net_l", gettext("what the soil will be short of that day"), "L"
    )
    leaches = ledger.reason.number("leaching_fraction") is not None
    ledger.add(
        gettext("What to pour"),
        gettext(
            "In a pot some runs out below and carries salts away (UF/IFAS EP529); "
            "in the ground some misses the roots. Rounded up to what a person can "
            "measure"
        ),
        "G = I / e",
        terms=(
            net,
            ledger.term(
                "e",
                "efficiency",
                gettext("share that stays"),
                "",
                gettext("one less the leaching fraction")
                if leaches
                else gettext("rule, hand watering"),
            ),
        ),
        result=ledger.term("G", "gross_l", gettext("to pour"), "L"),
        compute=lambda litres, share: litres / share,
    )
    ledger.add(
        gettext("Depth on the watered ground"),
        gettext("One litre on one m² is one mm"),
        "d = I / A_w",
        terms=(
            net,
            ledger.term(
                "A_w",
                "basin_area_m2",
                gettext("watered ground"),
                "m²",
                gettext("tree record"),
            ),
        ),
        result=ledger.term("d", "depth_mm", gettext("depth of water"), "mm"),
        compute=lambda litres, area: litres / area,
    )
