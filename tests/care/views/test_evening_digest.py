"""One evening in one message: what to do in order, how heavy, until when."""

from datetime import UTC, datetime, timedelta

import pytest

from care.views.evening_messages import write_evenings
from orchard.actions.weather import type_reading
from orchard.models import Message, OfficialWarning, WeatherDay
from tests.conftest import TODAY

# Four in the afternoon: Pacific daylight time is seven hours behind, tz database.
FOUR = datetime(2025, 7, 2, 23, 0, tzinfo=UTC)
TOMORROW = TODAY + timedelta(days=1)


@pytest.fixture
def forecast(site):
    """Forecast tomorrow; the plan that was made stays as it is."""
    series = site.private_series.create(kind="forecast", name="A forecast")
    site.readings.create(series=series, rank=9)
    batch = series.batches.create(label="forecast")

    def write(*, age_days=0, days=1, **values):
        batch.days.create(
            day=TODAY + timedelta(days=days),
            issued_on=TODAY - timedelta(days=age_days),
            **values,
        )

    return write


def reason(code, **facts):
    pairs = [[name, value] for name, value in facts.items()]
    return {"code": code, "facts": pairs, "would_change": []}


def night(**facts):
    told = {"minimum_c": -4.0, "cold_on": TOMORROW.isoformat(), "threshold_c": -1.0}
    return {**told, "hours_below": 6.2, **facts}


@pytest.fixture
def freeze(make_tree, make_task):
    """A night that asks for everything there is to do, written in no order at all."""

    def urgent(name, action, kind="cold", cautions=(), **facts):
        tasks = {"amount": None, "unit": "", "is_urgent": True}
        make_task(
            make_tree(name),
            kind=kind,
            key=f"next/{action}",
            action=action,
            cautions=list(cautions),
            reason=reason(f"{kind}_{action}", **night(**facts)),
            **{**tasks, "is_urgent": action not in ("ready_soil", "group")},
        )

    urgent(
        "Young orange", "cover", cautions=["water_soil_before_freeze"], beyond_cover=True,
        thaw_after_sunrise_h=2.1,
    )  # fmt: skip
    urgent("Old olive", "check")
    urgent("Dry fig", "ready_soil", kind="freeze")
    urgent("Bay", "group", wet_kg=12, carried_by="one")
    urgent(
        "Lemon", "move_in", cautions=["two_people_lift"], wet_kg=52, carried_by="dolly",
        last_indoors="indoors_unheated", is_evergreen=True,
        frosts_until="2026-03-20",
    )  # fmt: skip
    urgent("Satsuma", "pick_ripe", kind="freeze", threshold_c=-2.2, hours_below=5.0)


def message(name="owner"):
    return Message.objects.get(person__username=name)


def place_of(start, lines):
    return next(place for place, line in enumerate(lines) if start in line)


@pytest.fixture
def told(freeze, forecast, keep_plan):
    forecast(tmin_c=-4.0, tmax_c=9.0)
    keep_plan()
    assert write_evenings(FOUR) == 1
    return message().body


def test_fruit_then_pots_then_water_then_covers(told):
    steps = [line for line in told["lines"] if line[:1].isdigit() and ". " in line[:3]]
    assert [step.split(",")[0].split(":")[0].split(";")[0] for step in steps] == [
        "1. Pick the ripe fruit first",
        "2. Carry these pots in",
        "3. Stand these pots together by a wall that faces the sun",
        "4. Then water the ground if it is dry a finger deep",
        "5. Cover these down to the soil",
        "6. Too tall to cover",
    ]
    names = ("Satsuma", "Lemon", "Bay", "Dry fig", "Young orange: bears", "Old olive")
    places = [place_of(f"{name}", told["lines"]) for name in names]
    assert places == sorted(places)


def test_it_begins_with_how_cold_it_becomes(told):
    assert told["lines"][0] == "-4 °C is likely tomorrow morning, by the forecast."
    assert told["title"] == "Test site: 4 things to do before the cold"


def test_a_pot_is_told_with_weight_people_place_and_hours(told):
    line = told["lines"][place_of("Lemon", told["lines"])]
    assert line == (
        "• Lemon: about 52 kg when wet: two people and a dolly, not lifted, back into the "
        "unheated room where it stood last, in the light. It bears -1 °C, and it stays "
        "that cold for about 6 hours."
    )
    heading = told["lines"][place_of("Lemon", told["lines"]) - 1]
    assert "before any watering" in heading
    assert "nobody alone" in heading


def test_ground_that_is_covered_is_watered_first_and_wet_clay_is_not(told):
    lines = told["lines"]
    water = place_of("Then water the ground", lines)
    assert lines[water].endswith("never clay that is wet already:")
    assert lines[water + 1 : water + 3] == ["• Dry fig.", "• Young orange."]


def test_fruit_is_told_with_the_cold_that_ruins_it(told):
    line = told["lines"][place_of("Satsuma", told["lines"])]
    assert line == (
        "• Satsuma: its fruit freezes at -2.2 °C, and it stays that cold for about 5 "
        "hours."
    )


def test_the_morning_after_is_told_in_the_end(told):
    assert told["lines"][-2:] == [
        "Open the covers tomorrow morning, once it is above freezing, likely about 2 "
        "hours after sunrise.",
        "The pots are likely to stay in until the frosts end, near 20 March 2026.",
    ]


def test_a_night_too_cold_for_covers_says_so(told):
    assert any("too cold for any cover" in line for line in told["lines"])


def test_each_reads_their_own_units(freeze, forecast, keep_plan, cast):
    cast.owner.units = "us"
    cast.owner.save()
    forecast(tmin_c=-4.0)
    keep_plan()
    assert write_evenings(FOUR) == 2
    # -4 degC are 24.8 degF; 52 kg are 114.6 lb: NIST SP 811 (2008), appendix B.8.
    us, metric = (" ".join(message(n).body["lines"]) for n in ("owner", "coordinator"))
    assert "25 °F" in us
    assert "115 lb" in us
    assert "°C" not in us
    assert "-4 °C" in metric
    assert "°F" not in metric


def test_a_stale_forecast_still_alarms_and_says_its_age(freeze, forecast, keep_plan):
    forecast(tmin_c=-4.0, age_days=4)
    keep_plan()
    write_evenings(FOUR)
    assert message().body["lines"][1] == (
        "The forecast is 4 days old: less sure with every day."
    )


def test_a_typed_minimum_alone_is_enough(freeze, site, keep_plan):
    row = type_reading(site=site, day=TODAY, values={"tmin_c": -4.0}, person=None)
    WeatherDay.objects.filter(pk=row.pk).update(issued_on=TODAY)
    keep_plan()
    write_evenings(FOUR)
    assert message().body["lines"][0] == "-4 °C is likely tonight, as typed in here."


def test_cold_work_of_which_nobody_knows_the_night_is_told_all_the_same(
    freeze, keep_plan
):
    keep_plan()
    write_evenings(FOUR)
    assert message().body["lines"][0].startswith("1. Pick")


def warn(site, event="Freeze Warning", severity="Moderate", **values):
    series = site.private_series.first()
    begins = datetime(2025, 7, 3, 6, 0, tzinfo=UTC)
    OfficialWarning.objects.create(
        series=series,
        identifier=f"urn:{event}",
        event=event,
        headline=values.pop("headline", f"{event} until Thursday morning"),
        severity=severity,
        sender="NWS Somewhere",
        area="Lower Valley",
        sent_at=begins - timedelta(hours=8),
        begins_at=begins,
        ends_at=begins + timedelta(hours=10),
        expires_at=begins + timedelta(hours=10),
        **values,
    )


def test_cold_heat_warning_wind_and_rain_are_one_message(
    freeze, forecast, keep_plan, site, make_tree, make_task
):
    forecast(tmin_c=-4.0, tmax_c=36.0, gust_ms=20.0, rain_mm=14.0)
    warn(site)
    make_task(
        make_tree("Fresh"), kind="heat", action="shade_pots", is_urgent=True, unit=""
    )
    facts = reason("water_established", rain_wait_on=TOMORROW.isoformat())
    make_task(make_tree("Dry"), days=2, reason=facts)
    keep_plan()
    assert write_evenings(FOUR) == 1
    body = message().body
    assert body["kinds"] == ["cold_tonight", "heat", "official_warning"]
    starts = (
        "High wind likely tomorrow, gusts of 20 m/s",
        "1. Pick the ripe",
        "Up to 36 °C tomorrow.",
        "Fresh.",
        "Confusion, fainting",
        "Official: “Freeze Warning until Thursday morning” Issued by NWS Somewhere",
        "Rain likely tomorrow, about 14 mm: watering of 1 tree waits till Friday.",
    )
    places = [place_of(start, body["lines"]) for start in starts]
    assert places == sorted(places)


def test_an_official_warning_alone_is_told_in_its_own_words(forecast, keep_plan, site):
    forecast(tmin_c=12.0)
    warn(site, event="Severe Thunderstorm Watch", instruction="Go indoors now.")
    keep_plan()
    assert write_evenings(FOUR) == 1
    body = message().body
    assert body["title"] == "Test site: official warning, Severe Thunderstorm Watch"
    quote, ours = body["lines"]
    assert quote == (
        "Official: “Severe Thunderstorm Watch until Thursday morning” Issued by NWS "
        "Somewhere, today 15:00, in force from today 23:00 to tomorrow 9:00, for Lower "
        "Valley. They say: “Go indoors now.”"
    )
    assert ours.startswith("For the work here: At the first thunder")


def test_a_warning_of_nothing_that_changes_work_wakes_nobody(forecast, keep_plan, site):
    forecast(tmin_c=12.0)
    warn(site, event="Air Quality Alert")
    keep_plan()
    assert write_evenings(FOUR) == 0


def test_the_first_hot_day_is_told_and_the_next_is_not(forecast, keep_plan, site):
    forecast(tmin_c=18.0, tmax_c=38.0)
    keep_plan()
    assert write_evenings(FOUR) == 1
    lines = message().body["lines"]
    assert message().body["title"] == "Test site: heat, up to 38 °C"
    assert lines[0] == "Up to 38 °C tomorrow."
    assert any("call your emergency number" in line for line in lines)
    assert any("Fruit in full sun burns" in line for line in lines)
    Message.objects.all().delete()
    forecast(days=0, tmin_c=18.0, tmax_c=36.0)
    keep_plan()
    assert write_evenings(FOUR) == 0


def test_of_many_trees_twelve_are_named(make_tree, make_task, keep_plan):
    for number in range(14):
        make_task(
            make_tree(f"Fig {number}"), kind="cold", action="cover", is_urgent=True
        )
    keep_plan()
    write_evenings(FOUR)
    lines = message().body["lines"]
    assert sum(line.startswith("• Fig ") for line in lines) == 12
    assert "• and 2 more, named on the page." in lines
