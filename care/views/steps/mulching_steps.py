"""From a depth measured once to litres of mulch."""

from care.views.steps.step import Ledger


def fill(ledger: Ledger) -> None:
    """Add what is missing and its volume on the ring."""
    depth = ledger.term(
        "d", "depth_mm", "depth now", "mm", "last measured, less what has rotted"
    )
    target = ledger.term("D", "target_depth_mm", "depth when settled", "mm", "rule")
    add = ledger.term("a", "add_mm", "depth to add", "mm")
    ledger.add(
        "What is missing",
        "UF/IFAS: two to three inches when settled",
        "a = D - d",
        terms=(target, depth),
        result=add,
        compute=lambda whole, now: whole - now,
    )
    ledger.add(
        "Its volume on the ring",
        "Area of the ring times the depth",
        "V = A · a",
        terms=(
            ledger.term("A", "ring_area_m2", "area of the ring", "m²", "tree record"),
            add,
        ),
        result=ledger.term("V", "task_amount", "loose mulch", "L"),
        compute=lambda area, millimetres: area * millimetres,
    )
