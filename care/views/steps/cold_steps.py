"""From a forecast minimum to an alarm."""

from care.views.steps.step import Ledger


def fill(ledger: Ledger) -> None:
    """Add the temperature from which one acts."""
    is_checked = (
        "unverified, so taken warmer" if ledger.reason.holds("unverified") else ""
    )
    figure = ledger.reason.text("figure")
    origin = ledger.figure_origin(figure) if figure else "published table"
    bears = ledger.term(
        "T",
        "threshold_c",
        "what the plant bears",
        "°C",
        f"{origin} {is_checked}".strip(),
    )
    ledger.add(
        "The minimum from which to act",
        "What it bears, the site's margin, and more where the figure was not checked",
        "alarm = T + margin + extra",
        terms=(
            bears,
            ledger.term(
                "margin", "margin_c", "the site's margin", "°C", "site settings"
            ),
            ledger.term(
                "extra", "extra_margin_c", "for an unchecked figure", "°C", "rule"
            ),
        ),
        result=ledger.term("alarm", "alarm_c", "act at or below", "°C"),
        compute=lambda bears_c, margin_c, extra_c: bears_c + margin_c + extra_c,
    )
