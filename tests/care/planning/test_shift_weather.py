"""Thunder, heat and wind of a shift's hours: what is proposed, and what is done."""

from datetime import UTC, datetime, time, timedelta

import pytest

from care.actions.shift_changes import revive_shift
from care.actions.stormy_shifts import call_off_dangerous
from care.models import Shift
from care.planning.days_ahead import NearDay
from care.planning.shift_weather import (
    Advice,
    Hours,
    Sky,
    Warned,
    calls,
    calls_of,
)
from care.planning.shift_work import NO_WORK, Hazard, ShiftWork
from orchard.models import Message, OfficialWarning
from orchard.sources.official_warnings import Concern
from tests.conftest import TODAY

NINE = datetime(2025, 7, 2, 16, tzinfo=UTC)  # nine in the morning at the site
HOUR = timedelta(hours=1)


def hours(starts_at=time(9), *, ladder=False, today=True):
    return Hours(NINE, NINE + 3 * HOUR, starts_at, has_ladder=ladder, is_today=today)


def warned(event, severity="Severe", after=0.0, length=1.0):
    concern = Concern.THUNDER if "Thunder" in event else Concern.HEAT
    concern = Concern.WIND if "Wind" in event else concern
    begins = NINE + after * HOUR
    return Warned(concern, event, severity, begins, begins + length * HOUR)


def told(call):
    return call.concern, call.advice, call.is_sure


@pytest.mark.parametrize(
    ("warning", "today", "expected"),
    [
        (warned("Severe Thunderstorm Warning"), True, ("cancel", True)),
        (warned("Severe Thunderstorm Warning"), False, ("cancel", False)),
        (warned("Severe Thunderstorm Watch"), True, ("cancel", False)),
        (warned("Thunderstorm Advisory", "Moderate"), True, ("cancel", False)),
        # It ends as the shift begins, or begins as it ends.
        (warned("Severe Thunderstorm Warning", after=-1), True, None),
        (warned("Severe Thunderstorm Warning", after=3), True, None),
        (warned("Extreme Heat Warning"), True, ("cancel", True)),
        (warned("Extreme Heat Warning"), False, ("move", False)),
        (warned("Heat Advisory", "Moderate"), True, ("move", False)),
        (warned("High Wind Warning"), True, ("move", False)),
        (warned("Wind Advisory", "Moderate"), True, None),  # no ladder on this one
    ],
)
def test_official_warnings(warning, today, expected):
    found = calls(hours(today=today), Sky(warned=(warning,)))
    assert [told(call) for call in found] == [
        (warning.concern, *row) for row in [expected] if row
    ]


def heat(maximum_f, humidity=None, starts_at=time(9), temperatures=()):
    maximum_c = (maximum_f - 32) * 5 / 9
    day = NearDay(tmin_c=18.0, tmax_c=maximum_c, humidity_percent=humidity)
    found = calls(hours(starts_at), Sky(day, temperatures_c=temperatures))
    return [(call.advice, call.is_temperature_only) for call in found]


def test_heat_goes_by_oshas_bands():
    # Of the temperature alone where the humidity is not known, which is said.
    assert heat(90.5) == []
    assert heat(92) == [(Advice.EARLIER, True)]
    assert heat(92, starts_at=time(7)) == [(Advice.MIND, True)]
    assert heat(104) == [(Advice.MOVE, True)]
    assert heat(116) == [(Advice.CANCEL, True)]
    # Damp air: 92 degF with 70 % of a mean humidity feels like more than 91 degF.
    assert heat(92, humidity=70.0)[0][1] is False
    assert heat(100, humidity=75.0)[0][0] in (Advice.MOVE, Advice.CANCEL)
    # Only the shift's own hours count, and a gap is no heat.
    assert heat(104, temperatures=(24.0, 27.0)) == []
    assert heat(104, temperatures=(float("nan"),)) == [(Advice.MOVE, True)]


def wind(*, ladder, **values):
    found = calls(hours(ladder=ladder), Sky(NearDay(**values)))
    return [(call.advice, call.is_mean_wind) for call in found]


def test_ladders_leave_in_wind_and_all_leave_in_a_high_one():
    assert wind(ladder=True, gust_ms=10.9) == []
    assert wind(ladder=True, gust_ms=11.0) == [(Advice.NO_LADDERS, False)]
    assert wind(ladder=False, gust_ms=17.0) == []
    # OSHA's high wind: above 64.4 km/h, 29 CFR 1910.269(x).
    assert wind(ladder=False, gust_ms=17.8) == []
    assert wind(ladder=False, gust_ms=18.0) == [(Advice.MOVE, False)]
    assert wind(ladder=True, wind_ms=8.0) == [(Advice.NO_LADDERS, True)]
    assert wind(ladder=True, wind_ms=7.9) == []
    assert wind(ladder=True) == []
    advisory = Sky(warned=(warned("Wind Advisory", "Moderate"),))
    (call,) = calls(hours(ladder=True), advisory)
    assert (call.advice, call.gust_ms) == (Advice.NO_LADDERS, None)


def test_the_gravest_stands_first():
    day = NearDay(tmin_c=20.0, tmax_c=34.0, gust_ms=12.0)
    sky = Sky(day, (warned("Severe Thunderstorm Watch"),))
    found = calls(hours(ladder=True), sky)
    assert [call.advice for call in found] == [
        Advice.CANCEL,
        Advice.EARLIER,
        Advice.NO_LADDERS,
    ]


@pytest.fixture
def make_shift(site, cast):
    def make(day=TODAY, at=time(9), minutes=180, **values):
        facts = {"status": "published", "published_at": NINE, **values}
        shift = Shift.objects.create(
            site=site,
            name="Row",
            day=day,
            starts_at=at,
            minutes=minutes,
            changed_at=NINE,
            **facts,
        )
        shift.places.create(number=1, state="held", holder=cast.grower, busy_on=day)
        return shift

    return make


@pytest.fixture
def series(site):
    series = site.private_series.create(kind="forecast", name="Service")
    site.readings.create(series=series, rank=9)
    return series


def test_a_morning_is_cooler_than_its_afternoon(
    site, series, make_shift, django_assert_num_queries
):
    batch = series.batches.create(label="forecast")
    for days in (0, 1):
        batch.days.create(
            day=TODAY + days * timedelta(days=1),
            issued_on=TODAY,
            tmin_c=18.0,
            tmax_c=40.0,
            gust_ms=12.0,
        )
    morning = make_shift(at=time(5), minutes=120)
    afternoon = make_shift(TODAY + timedelta(days=1), at=time(13))
    late = make_shift(at=time(22), day=TODAY + timedelta(days=9))
    ladder = ShiftWork(hazards=frozenset({Hazard.LADDER}))
    work = {morning.pk: NO_WORK, afternoon.pk: ladder, late.pk: NO_WORK}
    with django_assert_num_queries(2):
        found = calls_of(site, [morning, afternoon, late], work, NINE)
    assert found[morning.pk] == found[late.pk] == ()
    assert [call.advice for call in found[afternoon.pk]] == [
        Advice.MOVE,
        Advice.NO_LADDERS,
    ]
    # Linvill's sine has its peak two hours past noon by the sun, within these hours.
    assert found[afternoon.pk][0].peak_c == pytest.approx(40.0, abs=0.2)


def test_an_official_warning_of_the_day_calls_todays_shift_off_once(
    site, cast, series, make_shift, django_assert_max_num_queries
):
    soon, tomorrow = make_shift(), make_shift(TODAY + timedelta(days=1))
    with django_assert_max_num_queries(6):
        assert call_off_dangerous(site=site, now=NINE - HOUR) == 0
    OfficialWarning.objects.create(
        series=series,
        identifier="urn:1",
        event="Severe Thunderstorm Warning",
        severity="Severe",
        headline="Storm",
        text="Storm.",
        instruction="",
        sender="Service",
        area="Valley",
        sent_at=NINE - HOUR,
        begins_at=NINE - HOUR,
        ends_at=NINE + HOUR,
        expires_at=NINE + HOUR,
    )
    assert call_off_dangerous(site=site, now=NINE - HOUR) == 1
    assert call_off_dangerous(site=site, now=NINE - HOUR) == 0
    soon.refresh_from_db()
    tomorrow.refresh_from_db()
    # A person who lets it take place after all knows better; it is left to them.
    revived = {"person": cast.owner, "now": NINE - HOUR}
    assert (soon.status, tomorrow.status) == ("cancelled", "published")
    (message,) = Message.objects.all()
    assert message.person == cast.grower
    assert message.body["lines"][1] == (
        "Official warning: Severe Thunderstorm Warning. "
        "Nobody works under trees in a thunderstorm."
    )
    assert revive_shift(shift=soon, **revived)
    assert call_off_dangerous(site=site, now=NINE - HOUR) == 0
