"""The tables of what exists."""

from orchard.models.audit import AuditEntry
from orchard.models.catalogue import OwnCultivar, OwnFigure, OwnSpecies
from orchard.models.in_care import InCare
from orchard.models.invites import Invite
from orchard.models.messages import Message, MessageChoice
from orchard.models.people import Membership, Orchard, Person, Role, SigninLink
from orchard.models.places import Block, FeedingBlackout, Site
from orchard.models.plans import Corner, Feature, NeighbourTree, SitePlan
from orchard.models.plantings import Planting, WantedTree
from orchard.models.trees import FARTHEST_M, Clump, Graft, Sex, Stay, Tree
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
    "FARTHEST_M",
    "AuditEntry",
    "Block",
    "Clump",
    "Corner",
    "DoubtedValue",
    "Feature",
    "FeedingBlackout",
    "FrostEvening",
    "Graft",
    "InCare",
    "Invite",
    "Membership",
    "Message",
    "MessageChoice",
    "NeighbourTree",
    "NormalMonth",
    "OfficialWarning",
    "Orchard",
    "OwnCultivar",
    "OwnFigure",
    "OwnSpecies",
    "Person",
    "Planting",
    "Role",
    "SentReading",
    "SeriesFetch",
    "Sex",
    "SigninLink",
    "Site",
    "SitePlan",
    "SiteSeries",
    "StationKey",
    "Stay",
    "Tree",
    "WantedTree",
    "WateringRule",
    "WeatherBatch",
    "WeatherDay",
    "WeatherSeries",
]
