"""The tables of what to do and what was done."""

from care.models.calendar_links import CalendarLink
from care.models.helper_links import Helper, HelperLink
from care.models.hindcasts import Hindcast
from care.models.logbook import LogEntry
from care.models.photos import Photo
from care.models.planting_steps import PlantingStep
from care.models.sendings import Sending
from care.models.shifts import (
    HandOver,
    RotaPublished,
    Shift,
    ShiftPlace,
    ShiftRefusal,
    ShiftSeries,
)
from care.models.tasks import Round, Task

__all__ = [
    "CalendarLink",
    "HandOver",
    "Helper",
    "HelperLink",
    "Hindcast",
    "LogEntry",
    "Photo",
    "PlantingStep",
    "RotaPublished",
    "Round",
    "Sending",
    "Shift",
    "ShiftPlace",
    "ShiftRefusal",
    "ShiftSeries",
    "Task",
]
