import pytest

from orchard.sources.answered_json import (
    as_number,
    list_of,
    moment,
    read_fields,
    text_of,
)
from orchard.sources.problems import SourceError


@pytest.mark.parametrize(
    ("body", "words"),
    [
        (b"<!DOCTYPE html><html>Down</html>", "web page"),
        (b"  <html/>", "web page"),
        (b'{"a": [1, 2', "breaks off or is garbled at letter 12"),
        (b"", "letter 1"),
        (b"[]", "not an object"),
        (b'"text"', "not an object"),
        (b"null", "not an object"),
        (b'{"a": NaN}', "NaN"),
        (b'{"a": -Infinity}', "-Infinity"),
        (b'{"a": 1e400}', "too large"),
        (b'{"a": 1' + b"0" * 400 + b"}", "401 digits"),
        (b'{"a": 1, "b": {"c": 1, "c": 2}}', "“c” is in it twice"),
        (b'{"a": ' + b"[" * 100_000, "nested without end"),
        (b'{"a": ' + b'{"a":' * 100_000, "nested without end"),
        (b"\xff\xfe\x00", "not text"),
        (b" " * 2_000_001, "more than 2 MB"),
    ],
)
def test_what_is_no_answer_is_told_in_words(body, words):
    with pytest.raises(SourceError, match=words) as told:
        read_fields(body)
    assert str(told.value).startswith("The weather service's answer cannot be read: ")


def test_a_mark_of_byte_order_does_no_harm():
    assert read_fields("\ufeff{}".encode()) == {}


@pytest.mark.parametrize("value", [True, "12", [], {}])
def test_only_a_number_is_a_number(value):
    with pytest.raises(SourceError, match="instead of a number"):
        as_number(value, "“rain”")
    assert as_number(None, "“rain”") is None
    assert as_number(12, "“rain”") == 12.0


@pytest.mark.parametrize(
    "text", ["", "soon", "2026-11-26T06:00", "0001-01-01T00:00:00+14:00", "2026-11-26"]
)
def test_a_time_needs_its_zone(text):
    with pytest.raises(SourceError, match="instead of a time with its zone"):
        moment(text, "“time”")


def test_parts_are_named_where_they_are_missing_or_another_kind():
    with pytest.raises(SourceError, match="“values” is missing"):
        list_of({}, "values")
    with pytest.raises(SourceError, match="“values” is not a list"):
        list_of({"values": {}}, "values")
    with pytest.raises(SourceError, match="“unit” is not a text"):
        text_of({"unit": 3}, "unit")
    assert text_of({"unit": None}, "unit") == ""
