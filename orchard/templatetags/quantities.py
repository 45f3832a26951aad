"""Amounts in the reader's units: ``{% amount task.amount task.unit %}``."""

from django import template
from django.template import Context

from orchard.units import UnitSystem, format_quantity

register = template.Library()


@register.simple_tag(takes_context=True)
def amount(context: Context, value: float | None, unit: str) -> str:
    """Return an SI amount in the units that the page's reader chose.

    ``unit`` is one that :func:`orchard.units.format_quantity` knows, such as ``L``,
    ``mm``, ``°C`` or ``share``. No value gives no text.
    """
    if value is None:
        return ""
    return format_quantity(value, unit, UnitSystem(str(context["units"])))
