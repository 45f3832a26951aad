"""The tables of what exists."""

from orchard.models.audit import AuditEntry
from orchard.models.catalogue import OwnCultivar, OwnFigure, OwnSpecies
from orchard.models.helping import (
    SKILL_LENGTH,
    Helping,
    Offered,
    Skill,
    is_hazard_skill,
    skill_named,
    skill_words,
    wishes_between,
)
from orchard.models.in_care import InCare
from orchard.models.invites import Invite
from orchard.models.messages import (
    Message,
    MessageChoice,
    MessageWays,
    PushSubscription,
)
from orchard.models.people import Membership, Orchard, Person, Role, SigninLink
from orchard.models.places import Block, FeedingBlackout, Site
from orchard.models.plans import Corner, Feature, NeighbourTree, SitePlan
from orchard.models.plantings import Planting, WantedTree
from orchard.models.trees import FARTHEST_M, Clump, Graft, Sex, Stay, Tree
from orchard.models.watering_rules import WateringRule
from orchard.models.ways_in import EmergencyContact, SignedPaper, WayIn
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
    "SKILL_LENGTH",
    "AuditEntry",
    "Block",
    "Clump",
    "Corner",
    "DoubtedValue",
    "EmergencyContact",
    "Feature",
    "FeedingBlackout",
    "FrostEvening",
    "Graft",
    "Helping",
    "InCare",
    "Invite",
    "Membership",
    "Message",
    "MessageChoice",
    "MessageWays",
    "NeighbourTree",
    "NormalMonth",
    "Offered",
    "OfficialWarning",
    "Orchard",
    "OwnCultivar",
    "OwnFigure",
    "OwnSpecies",
    "Person",
    "Planting",
    "PushSubscription",
    "Role",
    "SentReading",
    "SeriesFetch",
    "Sex",
    "SignedPaper",
    "SigninLink",
    "Site",
    "SitePlan",
    "SiteSeries",
    "Skill",
    "StationKey",
    "Stay",
    "Tree",
    "WantedTree",
    "WateringRule",
    "WayIn",
    "WeatherBatch",
    "WeatherDay",
    "WeatherSeries",
    "is_hazard_skill",
    "skill_named",
    "skill_words",
    "wishes_between",
]
