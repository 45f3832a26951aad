"""What the rules say: frozen values, before anything is stored."""

from dataclasses import dataclass
from datetime import date

Scalar = float | int | str | bool | date | None


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a task exists, as facts and not as prose.

    ``code`` names a sentence that a page knows how to say in any language;
    ``facts`` are the numbers it needs, in SI units, unit in the name;
    ``would_change`` are codes of what would move or withdraw the task.
    """

    code: str
    facts: tuple[tuple[str, Scalar], ...] = ()
    would_change: tuple[str, ...] = ()

    def fact(self, name: str) -> Scalar:
        """Return one fact, or ``None`` if the reason does not carry it."""
        return dict(self.facts).get(name)


@dataclass(frozen=True, slots=True)
class Proposal:
    """One thing to do for one tree.

    ``kind`` is the rule file's name and ``key`` the identity within it: ``next`` for
    state-driven kinds, ``<season>/<split>`` for calendar-driven ones, a season named
    by the year its growth starts. ``earliest <= due <= latest``. Only ``is_firm``
    proposals become tasks that can be ticked; the others are projections, with
    ``likely`` the 10-50-90 % days where known. ``amount`` is in the SI ``unit``:
    ``L``, ``g`` of product, ``mm``, ``share`` or ``""``. ``action`` names what to do
    within the kind, such as ``water``, ``top_up``, ``clear_trunk``, ``move_in``,
    ``move_out``, ``cover``, ``feed``, ``prune``, ``check``.
    """

    tree_id: int
    kind: str
    key: str
    action: str
    earliest: date
    due: date
    latest: date
    reason: Reason
    amount: float | None = None
    unit: str = ""
    sources: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    effort_minutes: int = 5
    is_firm: bool = True
    is_urgent: bool = False
    likely: tuple[date | None, date | None, date | None] | None = None

    def __post_init__(self) -> None:
        """Refuse a window that does not hold its own due day."""
        if not self.earliest <= self.due <= self.latest:
            message = (
                f"{self.kind}/{self.key}: {self.earliest} {self.due} {self.latest}"
            )
            raise ValueError(message)
