"""From a minimum as told to the one expected here, and to the alarm."""

from care.views.steps.step import Ledger


def fill(ledger: Ledger) -> None:
    """Add the place's own minimum and the temperature from which one acts."""
    if ledger.reason.text("basis") == "forecast":
        _pocket(ledger)
    unverified = ledger.reason.holds("unverified")
    doubt = "; unverified, so taken warmer" if unverified else ""
    figure = ledger.reason.text("figure")
    origin = ledger.figure_origin(figure) if figure else "published table"
    ledger.add(
        "The minimum from which to act",
        "What it bears, the site's margin, and more where the figure was not checked",
        "alarm = T + margin + extra",
        terms=(
            ledger.term(
                "T", "threshold_c", "what the plant bears", "°C", f"{origin}{doubt}"
            ),
            ledger.term(
                "margin", "margin_c", "the site's margin", "°C", "site settings"
            ),
            ledger.term(
                "extra", "extra_margin_c", "for an unchecked figure", "°C", "rule"
            ),
        ),
        result=ledger.term("alarm", "alarm_c", "act at or below", "°C"),
        compute=lambda bears, margin, extra: bears + margin + extra,
    )


def _pocket(ledger: Ledger) -> None:
    ledger.add(
        "The minimum expected here",
        "The forecast, less how much colder this place was than the station on cold "
        "nights",
        "T_n = F - h",
        terms=(
            ledger.term("F", "told_c", "minimum as forecast", "°C", "forecast"),
            ledger.term(
                "h", "pocket_c", "how much colder it is here", "°C", "your thermometer"
            ),
        ),
        result=ledger.term("T_n", "minimum_c", "minimum here", "°C"),
        compute=lambda told, pocket: told - pocket,
    )
