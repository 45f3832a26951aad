"""What a weather service is asked, and what it answers, whichever service it is.

A source is a module of this package with ``fetch(place, ask)``; the registry lists
them. Everything a source reads of the network it reads through ``ask``, so that there
is one seam to guard, to slow down and to replace in a test.
"""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Protocol
from zoneinfo import ZoneInfo

from orchard.sources.problems import SourceError, whole_problem


class SourceUnavailable(Exception):  # noqa: N818 (a state of the service, not a fault)
    """A service that did not answer as it should; the message is for people.

    ``wait`` is how long it asked to be left alone, if it said so. ``is_lasting`` says
    that asking again as before will not help: a refusal, a place it does not cover.
    """

    def __init__(
        self,
        message: str,
        *,
        wait: timedelta | None = None,
        is_lasting: bool = False,
    ) -> None:
        super().__init__(message)
        self.wait = wait
        self.is_lasting = is_lasting


class Unchanged(Exception):  # noqa: N818 (an answer)
    """Nothing is newer than what the service answered the last time."""


@dataclass(frozen=True, slots=True)
class AskedPlace:
    """Where and when weather is asked for; degrees with at most four decimals.

    ``now`` is aware; days are those of ``zone``.
    """

    latitude_deg: float
    longitude_deg: float
    elevation_m: float
    zone: ZoneInfo
    now: datetime

    @property
    def today(self) -> date:
        """The local day."""
        return self.now.astimezone(self.zone).date()


class Ask(Protocol):
    """The one way to the network: polite, guarded, and with a memory.

    Calling it returns the body of a good answer.

    Raises
    ------
    Unchanged
        The service says that nothing is newer.
    SourceUnavailable
        Everything else that is no good answer.
    """

    def __call__(self, url: str, *, is_main: bool = True) -> bytes:
        """Get ``url``; ``is_main`` for the answer whose age and change marks count."""

    def recall(self, name: str, *, no_older_than: timedelta) -> str | None:
        """Return what :meth:`remember` kept under ``name``, unless it is too old."""

    def remember(self, name: str, value: str) -> None:
        """Keep a short text beside the series, such as an address that was named."""


@dataclass(frozen=True, slots=True)
class ForecastDay:
    """One local day to come, in SI units; ``None`` is a value nobody forecast.

    Extremes are of the local day; wind is at 10 m unless ``wind_height_m`` says else.
    ``hours`` is of how many of its hours anything is known.
    """

    day: date
    tmin_c: float | None = None
    tmax_c: float | None = None
    rain_mm: float | None = None
    humidity_percent: float | None = None
    wind_ms: float | None = None
    gust_ms: float | None = None
    radiation_mj: float | None = None
    et0_mm: float | None = None
    hours: int = 24
    wind_height_m: float = 10.0


@dataclass(frozen=True, slots=True)
class IssuedWarning:
    """A warning of a public service, as issued; times are aware."""

    identifier: str
    event: str
    sent_at: datetime
    begins_at: datetime
    ends_at: datetime
    expires_at: datetime
    headline: str = ""
    text: str = ""
    instruction: str = ""
    severity: str = ""
    sender: str = ""
    area: str = ""


@dataclass(frozen=True, slots=True)
class Answer:
    """What one asking brought.

    ``warnings`` is ``None`` where the source issues none, or could not be asked for
    them this time; an empty tuple says that there are none. ``remarks`` are worth
    telling the people who run the place (an old interface, a grid point far away).
    """

    days: tuple[ForecastDay, ...]
    issued_at: datetime | None = None
    warnings: tuple[IssuedWarning, ...] | None = None
    remarks: tuple[str, ...] = ()


def strange_answer(what: str) -> SourceError:
    """Return the error for an answer that is not what the source promises."""
    return whole_problem(f"The weather service's answer cannot be read: {what}.")
