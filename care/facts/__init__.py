"""What the rules may know: frozen values, SI units, no database.

A rule is a function of a :class:`Situation`. Planning builds one a tree from the
records, the weather and the log; nothing in here reads a clock.
"""

from care.facts.conflict import Conflict
from care.facts.cultivar import CultivarFacts
from care.facts.layout import (
    AREAS,
    ClumpFacts,
    FeatureFacts,
    FeatureKind,
    LayoutFacts,
    PlantFacts,
    PlanTime,
    Point,
    Standing,
)
from care.facts.log import Hold, HoldCause, Observation, Stage, StageDay, WorkDone
from care.facts.place import (
    Blackout,
    ColdPocket,
    FrostNights,
    MonthDay,
    NitrogenAdvice,
    SiteFacts,
    SoilTest,
    WateringRule,
)
from care.facts.situation import Situation
from care.facts.species import Span, SpeciesFacts
from care.facts.tree import (
    Answer,
    Goal,
    Mulch,
    Place,
    RainReach,
    StandingIrrigation,
    Stay,
    Stock,
    Support,
    TreeFacts,
)
from care.facts.water import WaterCourse, WaterOutlook
from care.facts.weather import (
    Array,
    Flags,
    Known,
    Origin,
    Provenance,
    RainFacts,
    RainState,
    ValueOrigin,
    WeatherSeries,
)

__all__ = [
    "AREAS",
    "Answer",
    "Array",
    "Blackout",
    "ClumpFacts",
    "ColdPocket",
    "Conflict",
    "CultivarFacts",
    "FeatureFacts",
    "FeatureKind",
    "Flags",
    "FrostNights",
    "Goal",
    "Hold",
    "HoldCause",
    "Known",
    "LayoutFacts",
    "MonthDay",
    "Mulch",
    "NitrogenAdvice",
    "Observation",
    "Origin",
    "Place",
    "PlanTime",
    "PlantFacts",
    "Point",
    "Provenance",
    "RainFacts",
    "RainReach",
    "RainState",
    "SiteFacts",
    "Situation",
    "SoilTest",
    "Span",
    "SpeciesFacts",
    "Stage",
    "StageDay",
    "Standing",
    "StandingIrrigation",
    "Stay",
    "Stock",
    "Support",
    "TreeFacts",
    "ValueOrigin",
    "WaterCourse",
    "WaterOutlook",
    "WateringRule",
    "WeatherSeries",
    "WorkDone",
]
