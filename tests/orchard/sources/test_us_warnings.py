import json
from datetime import UTC, datetime, timedelta

import pytest

from orchard.sources.problems import SourceError
from orchard.sources.us_warnings import LONGEST, address, matters, parse_warnings
from tests.orchard.sources.answers import fixture, place

BODY = fixture("us_alerts.json")
NOW = datetime(2026, 11, 26, 23, tzinfo=UTC)


def changed(number, **changes):
    fields = json.loads(BODY)
    fields["features"][number]["properties"].update(changes)
    return json.dumps(fields).encode()


def events(body, now=NOW):
    return [each.event for each in parse_warnings(body, now)]


def test_only_what_is_meant_and_in_force_is_kept():
    # The watch was replaced by the warning; the wind is over (EXP), the heat was
    # cancelled, the frost advisory is a test, the gale is at sea.
    flood, freeze = parse_warnings(BODY, NOW)
    assert flood.event == "Flood Watch"
    assert (freeze.event, freeze.identifier) == ("Freeze Warning", "urn:oid:freeze.2")
    assert freeze.begins_at == datetime(2026, 11, 27, 6, tzinfo=UTC)
    assert freeze.ends_at == datetime(2026, 11, 27, 16, tzinfo=UTC)
    assert freeze.expires_at == datetime(2026, 11, 27, 4, tzinfo=UTC)
    assert freeze.sender == "NWS Example"
    assert "as low as 29" in freeze.text
    # Without an end of its own the message's counts.
    assert flood.ends_at == flood.expires_at


@pytest.mark.parametrize(
    ("event", "is_kept"),
    [
        ("Frost Advisory", True),
        ("Freeze Watch", True),
        ("Hard Freeze Warning", True),
        ("Extreme Cold Warning", True),
        ("Wind Chill Advisory", True),
        ("Excessive Heat Warning", True),
        ("High Wind Watch", True),
        ("Severe Thunderstorm Warning", True),
        ("Flash Flood Warning", True),
        ("Coastal Flood Advisory", True),
        ("Tornado Warning", True),
        ("Ice Storm Warning", True),
        ("Gale Warning", False),
        ("Hurricane Force Wind Warning", False),
        ("Heavy Freezing Spray Warning", False),
        ("Small Craft Advisory for Winds", False),
        ("Rip Current Statement", False),
        ("Air Quality Alert", False),
        ("Red Flag Warning", False),
        ("Child Abduction Emergency", False),
        ("Test", False),
        ("", False),
    ],
)
def test_what_harms_trees_or_people_outdoors(event, is_kept):
    assert matters({"event": event}) is is_kept


@pytest.mark.parametrize(
    ("codes", "is_kept"),
    [
        (["/O.NEW.KSEW.FZ.W.0003.261127T0600Z-261127T1600Z/"], True),
        (["/O.EXT.KSEW.FZ.W.0003.261127T0600Z-261127T1600Z/"], True),
        (["/O.CAN.KSEW.FZ.W.0003.261127T0600Z-261127T1600Z/"], False),
        (["/O.EXP.KSEW.FZ.W.0003.000000T0000Z-261127T1600Z/"], False),
        (["/O.CAN.KSEW.FZ.A.0003.1-2/", "/O.NEW.KSEW.FZ.W.0001.1-2/"], True),
        (["garbled", 7], True),
        ([], True),
        (None, True),
    ],
)
def test_the_services_own_code_tells_what_is_over(codes, is_kept):
    body = changed(1, parameters={"VTEC": codes})
    assert ("Freeze Warning" in events(body)) is is_kept


def test_what_is_past_is_no_warning():
    assert events(BODY, NOW + timedelta(days=3)) == []
    # The message has expired but the freeze is still to come.
    assert "Freeze Warning" in events(BODY, datetime(2026, 11, 27, 5, tzinfo=UTC))


def test_cancelling_takes_away_what_it_names():
    reference = [{"identifier": "urn:oid:flood.1"}]
    assert events(changed(3, references=reference)) == ["Freeze Warning"]


def test_a_warning_that_names_no_times_counts_a_day():
    body = changed(4, onset=None, effective=None, expires=None, ends=None)
    flood = parse_warnings(body, NOW)[0]
    assert flood.begins_at == flood.sent_at
    assert flood.ends_at == flood.expires_at == flood.begins_at + timedelta(days=1)


def test_texts_fit_where_they_are_kept():
    body = changed(1, description="x" * 90_000, headline="a\0b\ud800c\u00a0d\te\nf")
    freeze = parse_warnings(body, NOW)[1]
    assert len(freeze.text) == LONGEST["text"]
    assert freeze.text.endswith("x…")
    assert freeze.headline == "abc d e\nf"


@pytest.mark.parametrize(
    ("body", "words"),
    [
        (b'{"features": 1}', "not a list"),
        (b'{"features": [1]}', "a warning is not an object"),
        (b'{"features": [{}]}', "a warning is not an object"),
        (json.dumps({"features": [{}] * 201}).encode(), "201 warnings"),
        (changed(1, id=None), "has no “id”"),
        (changed(1, onset="tonight"), "“onset” is “tonight”"),
        (changed(1, references=3), "“references” is not a list"),
        (changed(1, parameters=[1]), "“parameters” is not an object"),
    ],
)
def test_another_form_is_refused(body, words):
    with pytest.raises(SourceError, match=words):
        parse_warnings(body, NOW)


def test_it_asks_for_one_point():
    assert address(place()).endswith("/alerts/active?point=47.45,-122.31")
