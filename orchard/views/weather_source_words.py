"""How asking a weather service goes, in words, and what can be done about it."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db.models import Max
from django.utils.translation import gettext, gettext_noop

from orchard.actions.arriving_weather import FAILURES_IN_A_ROW
from orchard.actions.weather_asking import NO_CONTACT
from orchard.actions.weather_services import chosen_series
from orchard.languages import day_and_month
from orchard.models import SeriesFetch, Site, WeatherDay, WeatherSeries
from orchard.sources.retold import retold
from orchard.views.age_words import ago

#: Good answers come every few hours; older than this, people should know.
OLD = timedelta(hours=18)
DEMONSTRATION = gettext_noop(
    "This place is a demonstration and lives on a day of its own, for which no "
    "service has a forecast. A place of your own can have one."
)
STAYS_IN_USE = gettext_noop(
    "Until it answers, its last forecast stays in use as far as it reaches, "
    "and after that the usual weather of the time of year."
)
NOTHING_YET = gettext_noop(
    "Until it answers, the plan goes by what is measured here and the usual "
    "weather of the time of year."
)
COLD_EVENING = gettext_noop(
    "On a cold evening, look at a forecast elsewhere and type tonight's lowest "
    "on the weather page."
)


@dataclass(frozen=True, slots=True)
class ServiceState:
    """How asking goes for one site.

    ``lead`` says it in a sentence, ``lines`` say more. ``is_trouble`` is whether
    somebody should look at it; ``is_asked`` whether a service is asked at all.
    """

    lead: str
    lines: tuple[str, ...] = ()
    is_trouble: bool = False
    is_asked: bool = False


def service_state(site: Site, now: datetime) -> ServiceState:
    """Return how a site's weather service is doing, for any page of the site.

    Parameters
    ----------
    site : Site
    now : datetime
        Aware.
    """
    return state_of(site, chosen_series(site), now)


def state_of(site: Site, series: WeatherSeries | None, now: datetime) -> ServiceState:
    """Return how the service behind ``series`` is doing, where it is read already."""
    if site.own_today is not None:
        return ServiceState(gettext(DEMONSTRATION))
    if not settings.ORCHARD_CONTACT:
        return ServiceState(gettext(NO_CONTACT), is_trouble=series is not None)
    if series is None:
        return ServiceState(
            gettext("No weather service is chosen, so no forecast comes.")
        )
    return _asked_state(series, series.fetch, now, ZoneInfo(site.time_zone))


def _asked_state(
    series: WeatherSeries, fetch: SeriesFetch, now: datetime, zone: ZoneInfo
) -> ServiceState:
    is_failing = fetch.failures > 0
    is_old = fetch.fetched_at is not None and now - fetch.fetched_at > OLD
    lines = [_good_words(series, fetch, now, zone)] if is_failing or is_old else []
    lines += [fetch.remark] if fetch.remark else []
    lines += _wait_words(fetch, now, zone)
    if is_failing:
        until = STAYS_IN_USE if fetch.fetched_at else NOTHING_YET
        lines += [gettext(until), gettext(COLD_EVENING)]
        return ServiceState(
            gettext("{name} gave no good answer {ago}: {error}").format(
                name=series.name,
                ago=ago(_asked_at(fetch, now), now),
                error=retold(fetch.error),
            ),
            tuple(lines),
            is_trouble=True,
            is_asked=True,
        )
    if fetch.fetched_at is None:
        return ServiceState(
            gettext("{name} is chosen and has not been asked yet.").format(
                name=series.name
            ),
            tuple(lines),
            is_asked=True,
        )
    if is_old:
        lead = gettext("{name} has not been asked for a while.").format(
            name=series.name
        )
        extra = gettext(
            "Are the background jobs running? Ask whoever runs this server."
        )
        return ServiceState(lead, (*lines, extra), is_trouble=True, is_asked=True)
    return ServiceState(
        _good_words(series, fetch, now, zone), tuple(lines), is_asked=True
    )


def _asked_at(fetch: SeriesFetch, now: datetime) -> datetime:
    return fetch.asked_at or now


def _good_words(
    series: WeatherSeries, fetch: SeriesFetch, now: datetime, zone: ZoneInfo
) -> str:
    if fetch.fetched_at is None:
        return gettext("There was no good answer so far.")
    words = gettext("{name}: last good answer {ago}.").format(
        name=series.name, ago=ago(fetch.fetched_at, now)
    )
    last = _last_day(series)
    if last is None:
        return words
    if last < now.astimezone(zone).date():
        reach = gettext("It reached to {day}, so no forecast is left.")
    else:
        reach = gettext("It reaches to {day}.")
    return f"{words} {reach.format(day=day_and_month(last))}"


def _last_day(series: WeatherSeries) -> date | None:
    rows = WeatherDay.objects.filter(batch__series=series)
    last: date | None = rows.aggregate(last=Max("day"))["last"]
    return last


def _wait_words(fetch: SeriesFetch, now: datetime, zone: ZoneInfo) -> list[str]:
    if fetch.wait_until is None or fetch.wait_until <= now:
        return [gettext("It is asked within the next ten minutes.")]
    again = gettext("It is asked again {at}.").format(
        at=clock_words(fetch.wait_until, now, zone)
    )
    if fetch.failures >= FAILURES_IN_A_ROW:
        return [
            gettext("It failed {number} times in a row and rests now. {again}").format(
                number=fetch.failures, again=again
            )
        ]
    return [again]


def clock_words(at: datetime, now: datetime, zone: ZoneInfo) -> str:
    """Return a time to come as one says it: "at 14:20", "on 3 March at 09:05"."""
    local = at.astimezone(zone)
    days = (local.date() - now.astimezone(zone).date()).days
    if days == 0:
        return gettext("at {time}").format(time=f"{local:%H:%M}")
    if days == 1:
        return gettext("tomorrow at {time}").format(time=f"{local:%H:%M}")
    return gettext("on {day} at {time}").format(
        day=day_and_month(local), time=f"{local:%H:%M}"
    )
