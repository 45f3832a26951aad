"""A real CalDAV server takes our calendar, and a real client reads it back."""

import os
import socket
import subprocess
import sys
import time as clock
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from http.client import HTTPConnection
from pathlib import Path
from uuid import UUID

import icalendar
import pytest
from caldav.davclient import DAVClient

from care.calendars.events import CalendarRound
from care.calendars.ics import render_calendar
from tests.care.calendars.shift_cases import shift_at

pytestmark = pytest.mark.service

CHANGED = datetime(2026, 3, 30, 5, 4, 3, tzinfo=UTC)
LONG = ", ".join(
    ["Feigen; Pfirsiche \\ 桃 🍎, slowly, the soil is still moist below"] * 3
)
ROUNDS = [
    CalendarRound(
        uid=UUID("7f1f9d0c-4a58-4f6e-9a0e-3c1f6f2a9b11"),
        day=date(2028, 2, 29),
        summary="South wall: water 3, mulch 1; bring the cart",
        description=f"Fig: 12 L\nPear: 20 L\n{LONG}",
        sequence=2,
        changed_at=CHANGED,
        url="https://trees.example/rounds/7f1f9d0c/",
    ),
    CalendarRound(
        uid=UUID("0b6a4a5e-8f0d-4c39-8f55-5b1d8a0f7c22"),
        day=date(2026, 12, 31),
        summary=LONG,
        description="",
        sequence=0,
        changed_at=CHANGED,
    ),
    CalendarRound(
        uid=UUID("c2b1e7f4-0d0e-4a93-8d57-9e0f6a1b3d33"),
        day=date(2026, 12, 31),
        summary="Patio: move 6 pots in",
        description="Two people or a dolly for the 60 L pots",
        sequence=1,
        changed_at=CHANGED,
    ),
]
START_SECONDS = 20


@pytest.fixture(scope="module")
def server_port(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """Run a CalDAV server of its own on a free port of this machine."""
    folder = tmp_path_factory.mktemp("caldav")
    configuration = folder / "config"
    port = _free_port()
    configuration.write_text(
        f"[server]\nhosts = 127.0.0.1:{port}\n"
        "[auth]\ntype = none\n"
        f"[storage]\nfilesystem_folder = {folder / 'storage'}\n"
        "[logging]\nlevel = info\n"
    )
    log = folder / "log"
    with log.open("wb") as output:
        server = subprocess.Popen(
            [sys.executable, "-m", "radicale", "--config", str(configuration)],
            cwd=folder,
            stdout=output,
            stderr=subprocess.STDOUT,
            # Its own warnings are not ours to fail on.
            env={**os.environ, "PYTHONDEVMODE": "", "PYTHONWARNINGS": "ignore"},
        )
        try:
            _wait_until_ready(log, server)
            yield port
        finally:
            server.terminate()
            try:
                server.wait(timeout=10)
            except subprocess.TimeoutExpired:
                server.kill()
                server.wait()


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


def _wait_until_ready(log: Path, server: "subprocess.Popen[bytes]") -> None:
    deadline = clock.monotonic() + START_SECONDS
    while "server ready" not in log.read_text():
        if clock.monotonic() > deadline or server.poll() is not None:
            pytest.fail(f"the CalDAV server did not start:\n{log.read_text()}")
        clock.sleep(0.05)


@pytest.fixture
def client(
    server_port: int, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> Iterator[DAVClient]:
    """A client that has nothing to mend: it warns when it repairs a file."""
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    with DAVClient(
        url=f"http://127.0.0.1:{server_port}/",
        username="grower",
        password="any",
        enable_rfc6764=False,
    ) as client:
        yield client
    assert [record.message for record in caplog.get_records("call")] == []


def one_event_files(rounds):
    """Cut the calendar into what CalDAV stores: a calendar for each event."""
    whole = icalendar.Calendar.from_ical(render_calendar("Alder Row", rounds))
    for event in whole.events:
        single = icalendar.Calendar()
        single.add("version", "2.0")
        single.add("prodid", whole["prodid"])
        single.add_component(event)
        yield single.to_ical().decode()


def put(port, path, content):
    """Put a file as a calendar program would that knows nothing of us."""
    connection = HTTPConnection("127.0.0.1", port, timeout=10)
    try:
        connection.request(
            "PUT",
            path,
            content,
            {
                "Content-Type": "text/calendar; charset=utf-8",
                "Authorization": "Basic Z3Jvd2VyOmFueQ==",  # grower:any
            },
        )
        response = connection.getresponse()
        response.read()
        return response.status
    finally:
        connection.close()


def read_back(events):
    """Return what the client understood of each event."""
    read = set()
    for stored in events:
        (event,) = stored.icalendar_instance.events
        assert event.end - event.start == timedelta(days=1)
        assert event["dtstamp"].dt == event["last-modified"].dt == CHANGED
        read.add(
            (
                str(event["uid"]),
                event.start,
                str(event["summary"]),
                str(event["description"]),
                int(event["sequence"]),
            )
        )
    return read


def meant(rounds):
    return {
        (str(one.uid), one.day, one.summary, one.description, one.sequence)
        for one in rounds
    }


def test_each_event_put_by_itself_comes_back_whole(client):
    calendar = client.principal().make_calendar(name="by-event")
    for content in one_event_files(ROUNDS):
        calendar.add_event(content, increase_seqno=False)
    assert read_back(calendar.get_events()) == meant(ROUNDS)


def test_the_whole_file_is_taken_as_a_calendar(client, server_port):
    content = render_calendar("Alder Row", ROUNDS)
    assert put(server_port, "/grower/whole-file/", content) == 201
    calendar = client.calendar(url=f"{client.url}grower/whole-file/")
    assert read_back(calendar.get_events()) == meant(ROUNDS)


def test_a_round_is_found_on_its_day_and_on_no_other(client, server_port):
    content = render_calendar("Alder Row", ROUNDS)
    assert put(server_port, "/grower/by-day/", content) == 201
    calendar = client.calendar(url=f"{client.url}grower/by-day/")
    for day in sorted(
        {one.day + timedelta(days=n) for one in ROUNDS for n in (-1, 0, 1)}
    ):
        midnight = datetime(day.year, day.month, day.day, tzinfo=UTC)
        found = calendar.search(
            start=midnight, end=midnight + timedelta(days=1), event=True, expand=True
        )
        assert {str(one.icalendar_component["uid"]) for one in found} == {
            str(one.uid) for one in ROUNDS if one.day == day
        }


def test_a_round_that_moves_replaces_itself(client):
    calendar = client.principal().make_calendar(name="moved")
    for content in one_event_files(ROUNDS):
        calendar.add_event(content, increase_seqno=False)
    moved = replace(ROUNDS[0], day=date(2028, 3, 1), sequence=3)
    (content,) = one_event_files([moved])
    calendar.add_event(content, increase_seqno=False)
    assert read_back(calendar.get_events()) == meant([moved, *ROUNDS[1:]])


def test_an_unchanged_round_keeps_the_servers_etag(client, server_port):
    content = render_calendar("Alder Row", ROUNDS)
    etags = []
    for _ in range(2):
        assert put(server_port, "/grower/unchanged/", content) == 201
        calendar = client.calendar(url=f"{client.url}grower/unchanged/")
        events = calendar.get_events()
        etags.append({str(one.url): one.load().etag for one in events})
    assert len(etags[0]) == len(ROUNDS)
    assert all(etags[0].values())
    assert etags[0] == etags[1]


def test_shifts_come_back_at_their_moments_with_their_time_zones(client, server_port):
    shifts = [
        shift_at("America/Los_Angeles", date(2026, 7, 4), number=1),
        shift_at("Pacific/Auckland", date(2026, 12, 31), time(23), number=2),
        shift_at("Africa/Casablanca", date(2026, 3, 3), number=3, is_cancelled=True),
    ]
    content = render_calendar("Alder Row", ROUNDS, shifts)
    assert put(server_port, "/grower/shifts/", content) == 201
    calendar = client.calendar(url=f"{client.url}grower/shifts/")
    found = {
        str(event["uid"]): (event.start.astimezone(UTC), event.end.astimezone(UTC))
        for stored in calendar.get_events()
        for event in stored.icalendar_instance.events
        if isinstance(event.start, datetime)
    }
    assert found == {
        str(one.uid): (one.begins.astimezone(UTC), one.ends.astimezone(UTC))
        for one in shifts
    }
    (stored,) = calendar.search(
        start=datetime(2026, 7, 4, 15, 59, tzinfo=UTC),
        end=datetime(2026, 7, 4, 16, 1, tzinfo=UTC),
        event=True,
        expand=True,
    )
    (event,) = stored.icalendar_instance.events
    assert str(event["uid"]) == str(shifts[0].uid)
