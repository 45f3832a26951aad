"""When something happened that a phone kept, by a clock that may be wrong."""

from dataclasses import dataclass
from datetime import datetime, timedelta

#: A phone's clock this near to ours is right; common practice, no source.
CLOCK_NEAR = timedelta(minutes=5)
#: Nobody carries work about for longer; an older time is a clock never set. No source.
BELIEVED = timedelta(days=400)
#: What the log's column holds at most, about 68 years [s].
MOST_OFF_S = 2**31 - 1


@dataclass(frozen=True, slots=True)
class PhoneTime:
    """When it happened by our clock; ``off_s`` [s] is by how much theirs was ahead."""

    happened_at: datetime
    off_s: int | None


def phone_time(*, happened_at: datetime, sent_at: datetime, now: datetime) -> PhoneTime:
    """Return when it happened, by our clock and never in the future.

    The phone says by its own clock when it happened and what time it is there now;
    a clock that is far off is put right by that. A time that still cannot be, such as
    one before the phone knew the year, becomes ``now``, and by how much it was off is
    told all the same.
    """
    off = sent_at - now
    is_off = abs(off) > CLOCK_NEAR
    happened = happened_at - off if is_off else happened_at
    if now - happened > BELIEVED:
        return PhoneTime(now, _seconds(happened - now))
    return PhoneTime(min(happened, now), _seconds(off) if is_off else None)


def _seconds(off: timedelta) -> int:
    return max(-MOST_OFF_S, min(MOST_OFF_S, round(off.total_seconds())))
