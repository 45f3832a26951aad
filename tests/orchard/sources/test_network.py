"""The network's one door, knocked at by a hostile server on this machine."""

import gzip
import os
import socket
import struct
import threading

import pytest

from orchard.sources.arriving import SourceUnavailable
from orchard.sources.network import MOST_BYTES, Line, get, host_of, system_addresses
from tests.orchard.sources.hostile_server import (
    HOST,
    PUBLIC,
    Authority,
    drips,
    says,
    serving,
)

URL = f"https://{HOST}/forecast?lat=1.5"
HEAD = b"HTTP/1.1 200 OK\r\n"


@pytest.fixture(scope="module")
def authority():
    return Authority()


@pytest.fixture(scope="module")
def context(authority, tmp_path_factory):
    return authority.server_context(tmp_path_factory.mktemp("tls"))


@pytest.fixture
def serve(authority, context):
    return lambda behave: serving(behave, context, authority.roots)


def refusal(url: str, line: Line) -> SourceUnavailable:
    with pytest.raises(SourceUnavailable) as refused:
        get(url, {}, line)
    return refused.value


def test_a_good_answer_comes_as_it_is(serve):
    answer = says("200 OK", "ETag: abc", body=b'{"a": 1}')
    with serve(answer) as service:
        reply = get(URL, {"User-Agent": "Test/1"}, service.line())
    assert (reply.status, reply.body) == (200, b'{"a": 1}')
    assert reply.headers["etag"] == "abc"
    assert service.requests[0].startswith(b"GET /forecast?lat=1.5 HTTP/1.1\r\n")
    assert service.headers() == {
        "host": HOST,
        "user-agent": "Test/1",
        "accept-encoding": "gzip",
        "connection": "close",
    }


def test_gzip_is_unpacked(serve):
    body = gzip.compress(b"weather" * 1000)
    with serve(says("200 OK", "Content-Encoding: gzip", body=body)) as service:
        assert get(URL, {}, service.line()).body == b"weather" * 1000


def test_the_address_that_was_looked_at_is_the_one_that_is_called(serve):
    """A name that answers publicly once and privately then gets no second look."""
    answers = [[PUBLIC], ["127.0.0.1"], ["10.0.0.1"]]
    with serve(says("200 OK", body=b"{}")) as service:
        line = service.line(resolve=lambda host, port: answers.pop(0))
        get(URL, {}, line)
    assert service.dialled == [PUBLIC]
    assert len(answers) == 2


@pytest.mark.parametrize(
    "addresses",
    [
        ["127.0.0.1"],
        [PUBLIC, "127.0.0.1"],
        [PUBLIC, "::1"],
        ["192.168.1.1", PUBLIC],
        [PUBLIC, "fe80::1%eth0"],
        ["::ffff:10.0.0.1"],
        ["100.64.0.1"],
        ["169.254.169.254"],
        ["0.0.0.0"],  # noqa: S104 (nothing is bound to it)
        ["not an address"],
    ],
)
def test_one_address_that_is_not_public_spoils_them_all(serve, addresses):
    with serve(says("200 OK")) as service:
        line = service.line(resolve=lambda host, port: addresses)
        refused = refusal(URL, line)
    assert "public" in str(refused)
    assert refused.is_lasting
    assert service.dialled == []


def test_ipv4_is_tried_first_and_the_next_address_where_one_fails(serve):
    with serve(says("200 OK", body=b"{}")) as service:
        working = service.line().dial

        def dial(address, port, timeout_s):
            connection = working(address, port, timeout_s)
            if address != "2606:4700::1":
                connection.close()
                raise ConnectionRefusedError
            return connection

        found = ["2606:4700::1", "8.8.8.8", PUBLIC]
        line = service.line(dial=dial, resolve=lambda host, port: found)
        assert get(URL, {}, line).status == 200
    assert service.dialled == ["8.8.8.8", PUBLIC, "2606:4700::1"]


def test_redirects_are_answers_and_nothing_more(serve):
    answer = says("302 Found", "Location: https://127.0.0.1/secret")
    with serve(answer) as service:
        assert get(URL, {}, service.line()).status == 302
    assert len(service.requests) == 1


def test_the_proxy_of_the_environment_is_not_asked(serve, monkeypatch):
    for name in ("https_proxy", "HTTPS_PROXY", "all_proxy", "http_proxy"):
        monkeypatch.setenv(name, "http://127.0.0.1:9")
    with serve(says("200 OK", body=b"{}")) as service:
        assert get(URL, {}, service.line()).body == b"{}"


@pytest.mark.parametrize(
    "behave",
    [
        drips(HEAD + b"Content-Length: 5000\r\n\r\n", b"x", every_s=0.02),
        drips(
            HEAD + b"Transfer-Encoding: chunked\r\n\r\n", b"1\r\nx\r\n", every_s=0.02
        ),
        drips(HEAD + b"X: ", b"y", every_s=0.02),
        drips(b"", b"HTTP/1.1 100 Continue\r\n\r\n", every_s=0.02),
        drips(b"", b"", every_s=0.1, most=5),
    ],
    ids=["body", "chunks", "header", "continue", "silence"],
)
def test_a_server_that_drips_its_answer_meets_the_deadline(serve, behave):
    """Each drip comes in time; in the end the server would break off."""
    with serve(behave) as service:
        refused = refusal(URL, service.line(total_s=0.3))
    assert "did not answer within 0.3 seconds" in str(refused)


def test_a_server_that_never_greets_meets_the_deadline(authority):
    """The connection stands, the handshake never begins."""
    hold = threading.Event()
    with serving(lambda _: hold.wait(5), None, authority.roots) as service:
        refused = refusal(URL, service.line(connect_s=0.2))
        hold.set()
    assert "did not answer" in str(refused)


def test_a_name_server_that_hangs_meets_the_deadline():
    hold = threading.Event()

    def resolve(host, port):
        hold.wait(5)
        return [PUBLIC]

    refused = refusal(URL, Line(resolve=resolve, connect_s=0.1))
    hold.set()
    assert "did not answer" in str(refused)


def test_a_name_that_nobody_knows_is_said():
    def resolve(host, port):
        raise socket.gaierror

    assert "online?" in str(refusal(URL, Line(resolve=resolve)))
    assert "no address" in str(refusal(URL, Line(resolve=lambda host, port: [])))


def test_nobody_listening_is_said():
    def dial(address, port, timeout_s):
        raise ConnectionRefusedError

    line = Line(resolve=lambda host, port: [PUBLIC], dial=dial)
    assert "cannot be reached" in str(refusal(URL, line))


def test_addresses_that_hang_share_one_allowance():
    clock, called = [0.0], []

    def dial(address, port, timeout_s):
        called.append((address, timeout_s))
        clock[0] += timeout_s if len(called) > 1 else 3.0
        raise TimeoutError

    found = ["8.8.8.8", "8.8.4.4", "1.1.1.1"]
    line = Line(resolve=lambda host, port: found, dial=dial, clock=lambda: clock[0])
    assert "cannot be reached" in str(refusal(URL, line))
    assert called == [("8.8.8.8", 5.0), ("8.8.4.4", 2.0)]


def test_time_that_is_up_before_anybody_was_called_is_up():
    times = iter([0.0])
    line = Line(resolve=lambda host, port: [PUBLIC], clock=lambda: next(times, 11.0))
    assert "did not answer within 10 seconds" in str(refusal(URL, line))


def test_a_connection_that_ends_at_once_is_said():
    def dial(address, port, timeout_s):
        ours, theirs = socket.socketpair()
        theirs.close()
        return ours

    line = Line(resolve=lambda host, port: [PUBLIC], dial=dial)
    assert "broke off" in str(refusal(URL, line))


def test_an_endless_body_is_cut_off(serve):
    endless = drips(HEAD + b"\r\n", b"x" * 65536, every_s=0)
    with serve(endless) as service:
        assert "too large" in str(refusal(URL, service.line()))


def test_as_much_as_is_allowed_and_not_a_byte_more(serve):
    with serve(says("200 OK", body=b"x" * 1000)) as service:
        assert len(get(URL, {}, service.line(most_bytes=1000)).body) == 1000
        assert "too large" in str(refusal(URL, service.line(most_bytes=999)))


@pytest.mark.parametrize("rounds", [1, 2])
def test_a_small_body_that_unpacks_to_a_huge_one_is_cut_off(serve, rounds):
    body = b"\0" * (20 * MOST_BYTES)
    for _ in range(rounds):
        body = gzip.compress(body)
    answer = says("200 OK", "Content-Encoding: gzip", body=body)
    with serve(answer) as service:
        if rounds == 1:
            assert "too large" in str(refusal(URL, service.line()))
        else:  # one layer is unpacked, never what is inside
            assert len(get(URL, {}, service.line()).body) < MOST_BYTES


@pytest.mark.parametrize(
    ("headers", "body"),
    [
        (["Content-Encoding: gzip"], b"no gzip at all"),
        (["Content-Encoding: gzip"], gzip.compress(os.urandom(500))[:-20]),
        (["Content-Encoding: br"], b"x"),
        (["Content-Encoding: gzip, gzip"], b"x"),
    ],
)
def test_what_cannot_be_unpacked_is_refused(serve, headers, body):
    with serve(says("200 OK", *headers, body=body)) as service:
        words = str(refusal(URL, service.line()))
    assert "broken" in words or "packed" in words


@pytest.mark.parametrize(
    "answer",
    [
        HEAD + b"Content-Length: 100\r\n\r\nonly this",
        HEAD + b"Transfer-Encoding: chunked\r\n\r\n64\r\nonly this",
        HEAD + b"X: y\r\n" * 150 + b"\r\n",
        HEAD + b"X: " + b"y" * 70_000 + b"\r\n\r\n",
        b"SSH-2.0-OpenSSH_9.6\r\n",
        b"",
    ],
    ids=["cut", "cut chunk", "header flood", "long header", "not http", "nothing"],
)
def test_an_answer_that_is_none_is_called_broken(serve, answer):
    with serve(lambda connection: connection.sendall(answer)) as service:
        assert "broken" in str(refusal(URL, service.line()))


def test_a_connection_that_is_reset_is_said(serve):
    def behave(connection):
        connection.sendall(HEAD + b"Content-Length: 100\r\n\r\nx")
        # No lingering: closing sends a reset instead of an end.
        linger = struct.pack("ii", 1, 0)
        connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, linger)

    with serve(behave) as service:
        words = str(refusal(URL, service.line()))
    assert "broke" in words


def test_a_certificate_of_another_host_is_refused(authority, tmp_path):
    other = authority.server_context(tmp_path, host="other.example.org")
    with serving(says("200 OK"), other, authority.roots) as service:
        words = str(refusal(URL, service.line()))
    assert "certificate" in words
    assert service.requests == []


def test_a_certificate_nobody_vouches_for_is_refused(context):
    with serving(says("200 OK"), context, Authority().roots) as service:
        assert "certificate" in str(refusal(URL, service.line()))


def test_a_server_without_tls_is_refused(authority):
    with serving(says("200 OK"), None, authority.roots) as service:
        assert "safe connection" in str(refusal(URL, service.line()))


@pytest.mark.parametrize(
    "url",
    [
        f"http://{HOST}/",
        f"ftp://{HOST}/",
        "file:///etc/passwd",
        f"https://me:secret@{HOST}/",
        f"https://{HOST}@10.0.0.1/",
        f"https://{HOST}:8443/",
        f"https://{HOST}:99999/",
        f"https://{HOST}/a b",
        f"https://{HOST}/\r\nX: y",
        "https://[::1]/",
        "https://[::ffff:127.0.0.1]/",
        "https://[::1",
        "https://localhost/",
        "https://2130706433/",
        f"https://{'a' * 64}.org/",
        "https:///path",
        "https://wetter.münchen.example/",
        "",
    ],
)
def test_only_plain_https_addresses_of_hosts_are_asked(url):
    def resolve(host, port):
        pytest.fail("looked up")

    assert refusal(url, Line(resolve=resolve)).is_lasting


def test_the_standard_port_may_be_named():
    assert host_of(f"https://{HOST.upper()}:443/x") == HOST


def test_the_systems_resolver_is_read_as_numbers():
    assert set(system_addresses("localhost", 443)) <= {"127.0.0.1", "::1"}


def test_numbers_dressed_as_names_are_looked_at_as_what_they_are():
    """The system reads "127.1" as 127.0.0.1, and so do we, before calling."""
    refused = refusal("https://127.1/", Line(connect_s=2))
    assert "public" in str(refused)
