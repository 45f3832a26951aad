"""Whatever a service sends, it is an answer or told to be none, and nothing else."""

import json

import pytest
from hypothesis import given, settings, strategies as st

from orchard.sources import (
    column_forecast,
    norwegian_forecast,
    us_forecast,
    us_warnings,
)
from orchard.sources.arriving import Answer
from orchard.sources.problems import SourceError
from tests.orchard.sources.answers import fixture, oslo, place


def column(body):
    return column_forecast.parse(body, place())


def norwegian(body):
    return norwegian_forecast.parse(body, oslo())


def us_days(body):
    return us_forecast.parse(body, place())


def us_square(body):
    return us_forecast.grid_address(body)


def warnings(body):
    return us_warnings.parse_warnings(body, place().now)


READERS = [
    (column, "column_hours.json"),
    (norwegian, "norwegian_complete.json"),
    (us_days, "us_grid.json"),
    (us_square, "us_point.json"),
    (warnings, "us_alerts.json"),
]

TIMES = ["2026-11-26T00:00", "9999-12-31T23:59:59Z", "0001-01-01T00:00:00+14:00"]
WORDS = ["PT1H", "2026-11-26T08:00:00+00:00/P9D", "-99.9", "wmoUnit:degC", "\ud800"]
texts = st.text(max_size=8) | st.sampled_from([*TIMES, *WORDS])
values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | texts,
    lambda parts: st.lists(parts, max_size=3) | st.dictionaries(texts, parts),
    max_leaves=6,
)


def parts_of(value, path=()):
    """Return the way to every part of a JSON value."""
    items = {}
    if isinstance(value, dict):
        items = value
    elif isinstance(value, list):
        items = dict(enumerate(value))
    found = [path] if path else []
    for key, part in items.items():
        found += parts_of(part, (*path, key))
    return found


def changed(value, path, part):
    """Return a copy of a JSON value with one part replaced."""
    if not path:
        return part
    copy = value.copy()
    copy[path[0]] = changed(value[path[0]], path[1:], part)
    return copy


def check(read, body):
    answer = told = None
    try:
        answer = read(body)
    except SourceError as error:
        told = error
    if told is not None:
        assert str(told).startswith("The weather service's answer cannot be read: ")
        assert len(told.problems) == 1
        return
    assert isinstance(answer, Answer | str | tuple)
    for day in getattr(answer, "days", ()):
        assert day.tmin_c is None or -60 <= day.tmin_c <= 55
        assert day.rain_mm is None or 0 <= day.rain_mm <= 500
        assert day.day >= place().today


@pytest.mark.parametrize(("read", "name"), READERS)
@given(body=st.binary(max_size=200))
@settings(max_examples=40)
def test_any_bytes(read, name, body):
    check(read, body)


@pytest.mark.parametrize(("read", "name"), READERS)
@given(data=st.data())
@settings(max_examples=40)
def test_an_answer_changed_anywhere(read, name, data):
    whole = json.loads(fixture(name))
    paths = parts_of(whole)
    for _ in range(data.draw(st.integers(1, 3))):
        part = data.draw(values)
        try:
            whole = changed(whole, data.draw(st.sampled_from(paths)), part)
        except (KeyError, IndexError, TypeError, AttributeError):
            continue  # An earlier change took this part away.
    check(read, json.dumps(whole).encode("utf-8", "surrogatepass"))


@pytest.mark.parametrize(("read", "name"), READERS)
@given(data=st.data())
@settings(max_examples=30)
def test_an_answer_that_breaks_off(read, name, data):
    body = fixture(name).rstrip()
    with pytest.raises(SourceError):
        read(body[: data.draw(st.integers(0, len(body) - 1))])
