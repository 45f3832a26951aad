"""The tables of what exists."""

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
    "Block",
    "Clump",
    "FeedingBlackout",
    "FrostEvening",
    "Membership",
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
