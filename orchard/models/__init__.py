"""The tables of what exists."""

from orchard.models.audit import AuditEntry
from orchard.models.in_care import InCare
from orchard.models.invites import Invite
from orchard.models.messages import Message, MessageChoice
from orchard.models.people import Membership, Orchard, Person, Role, SigninLink
from orchard.models.places import Block, FeedingBlackout, Site
from orchard.models.trees import Clump, Stay, Tree
from orchard.models.weather import (
    FrostEvening,
    NormalMonth,
    SiteSeries,
    WeatherBatch,
    WeatherDay,
    WeatherSeries,
)

__all__ = [
    "AuditEntry",
    "Block",
    "Clump",
    "FeedingBlackout",
    "FrostEvening",
    "InCare",
    "Invite",
    "Membership",
    "Message",
    "MessageChoice",
    "NormalMonth",
    "Orchard",
    "Person",
    "Role",
    "SigninLink",
    "Site",
    "SiteSeries",
    "Stay",
    "Tree",
    "WeatherBatch",
    "WeatherDay",
    "WeatherSeries",
]
