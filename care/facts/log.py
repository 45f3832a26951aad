"""What people did and saw."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


@dataclass(frozen=True, slots=True)
class WorkDone:
    """Something a person did, as far as it changes what comes next.

    ``kind`` is a rule's name (``watering``, ``feeding``, …); ``what`` is ``done`` or
    ``skipped``. ``amount`` is in the kind's SI unit: litres of water, grams of
    nitrogen, millimetres of mulch laid, share of the crown removed.
    """

    tree_id: int
    kind: str
    key: str
    on: date
    what: str = "done"
    amount: float | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Observation:
    """A reading that corrects the model of one tree.

    ``what``: ``soil_feel`` (wet | right | dry), ``mulch_depth_mm``,
    ``trunk_gap_mm``, ``shoot_growth_mm``, ``bloom_stage`` (a stage's name),
    ``drained_after_l`` (litres a pot took until water ran out below),
    ``not_drained_l`` (litres it got of which none did), ``harvest`` (kg picked).
    ``is_forgotten``: somebody has since had what it taught forgotten.
    """

    tree_id: int
    what: str
    on: date
    value: float | None = None
    word: str = ""
    is_forgotten: bool = False


class HoldCause(StrEnum):
    """Why fruit may not be picked yet."""

    SPRAY = "spray"
    MANURE = "manure"


@dataclass(frozen=True, slots=True)
class Hold:
    """Fruit of a tree that may not be picked through ``until``, that day included.

    ``product`` and the waiting days are as the person read them on the label.
    """

    tree_id: int
    cause: HoldCause
    on: date
    until: date
    product: str = ""


class Stage(StrEnum):
    """The turns of a tree's year that windows hang on."""

    BUD_BREAK = "bud_break"
    FULL_BLOOM = "full_bloom"
    PETAL_FALL = "petal_fall"
    HARVEST = "harvest"  # the last picking
    LEAF_DROP = "leaf_drop"


@dataclass(frozen=True, slots=True)
class StageDay:
    """The day of one stage in one care year, seen by a person or modelled.

    ``basis``: ``seen``, ``heat`` (from chill and warmth of this year) or ``months``
    (the catalogue's, a first guess). Leaf drop bears the year whose growth it ends,
    though it falls in the care year after.
    """

    stage: Stage
    season: int
    on: date
    basis: str
