"""The tables of what exists."""

from orchard.models.audit import AuditEntry
from orchard.models.in_care import InCare
from orchard.models.invites import Invite
from orchard.models.messages import Message, MessageChoice
from orchard.models.people import Membership, Orchard, Person, Role, SigninLink
from orchard.models.places import Block, FeedingBlackout, Site
from orchard.models.trees import Clump, Stay, Tree
from orchard.models.watering_rules import WateringRule
from orchard.models.weather import (
    FrostEvening,
    NormalMonth,
    SiteSeries,
    WeatherBatch,
    WeatherDay,
    WeatherSeries,
)
from orchard.models.weather_sources import (
    DoubtedValue,
    OfficialWarning,
    SentReading,
    SeriesFetch,
    StationKey,
)

__all__ = [
    "AuditEntry",
    "Block",
    "Clump",
    "DoubtedValue",
    "FeedingBlackout",
    "FrostEvening",
    "InCare",
    "Invite",
    "Membership",
    "Message",
    "MessageChoice",
    "NormalMonth",
    "OfficialWarning",
    "Orchard",
    "Person",
    "Role",
    "SentReading",
    "SeriesFetch",
    "SigninLink",
    "Site",
    "SiteSeries",
    "StationKey",
    "Stay",
    "Tree",
    "WateringRule",
    "WeatherBatch",
    "WeatherDay",
    "WeatherSeries",
]
