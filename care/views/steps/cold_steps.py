"""From a minimum as told to the one expected here, and to the alarm."""

from django.utils.translation import gettext

from care.views.steps.step import Ledger


def fill(ledger: Ledger) -> None:
    """Add the place's own minimum and the temperature from which one acts."""
    if ledger.reason.text("basis") == "forecast":
        _pocket(ledger)
    unverified = ledger.reason.holds("unverified")
    figure = ledger.reason.text("figure")
    origin = ledger.figure_origin(figure) if figure else gettext("published table")
    if unverified:
        origin = gettext("{origin}; unverified, so taken warmer").format(origin=origin)
    ledger.add(
        gettext("The minimum from which to act"),
        gettext(
            "What it bears, the site's margin, and more where the figure was not "
            "checked"
        ),
        "alarm = T + margin + extra",
        terms=(
            ledger.term(
                "T", "threshold_c", gettext("what the plant bears"), "°C", origin
            ),
            ledger.term(
                "margin",
                "margin_c",
                gettext("the site's margin"),
                "°C",
                gettext("site settings"),
            ),
            ledger.term(
                "extra",
                "extra_margin_c",
                gettext("for an unchecked figure"),
                "°C",
                gettext("rule"),
            ),
        ),
        result=ledger.term("alarm", "alarm_c", gettext("act at or below"), "°C"),
        compute=lambda bears, margin, extra: bears + margin + extra,
    )


def _pocket(ledger: Ledger) -> None:
    ledger.add(
        gettext("The minimum expected here"),
        gettext(
            "The forecast, less how much colder this place was than the station on "
            "cold nights"
        ),
        "T_n = F - h",
        terms=(
            ledger.term(
                "F", "told_c", gettext("minimum as forecast"), "°C", gettext("forecast")
            ),
            ledger.term(
                "h",
                "pocket_c",
                gettext("how much colder it is here"),
                "°C",
                gettext("your thermometer"),
            ),
        ),
        result=ledger.term("T_n", "minimum_c", gettext("minimum here"), "°C"),
        compute=lambda told, pocket: told - pocket,
    )
