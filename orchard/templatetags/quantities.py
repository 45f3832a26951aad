"""Amounts in the reader's units: ``{% amount task.amount task.unit %}``."""

from django import template

register = template.Library()
