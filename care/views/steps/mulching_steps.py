"""From a depth measured once to litres of mulch."""

from django.utils.translation import gettext

from care.views.steps.step import Ledger


def fill(ledger: Ledger) -> None:
    """Add what is missing and its volume on the ring."""
    depth = ledger.term(
        "d",
        "depth_mm",
        gettext("depth now"),
        "mm",
        gettext("last measured, less what has rotted"),
    )
    target = ledger.term(
        "D", "target_depth_mm", gettext("depth when settled"), "mm", gettext("rule")
    )
    add = ledger.term("a", "add_mm", gettext("depth to add"), "mm")
    ledger.add(
        gettext("What is missing"),
        gettext("UF/IFAS: two to three inches when settled"),
        "a = D - d",
        terms=(target, depth),
        result=add,
        compute=lambda whole, now: whole - now,
    )
    ledger.add(
        gettext("Its volume on the ring"),
        gettext("Area of the ring times the depth"),
        "V = A · a",
        terms=(
            ledger.term(
                "A",
                "ring_area_m2",
                gettext("area of the ring"),
                "m²",
                gettext("tree record"),
            ),
            add,
        ),
        result=ledger.term("V", "task_amount", gettext("loose mulch"), "L"),
        compute=lambda area, millimetres: area * millimetres,
    )
