"""The one place that touches the network: https to public addresses, kept short.

What is asked for may come from another service's answer, so nothing here trusts an
address: the host's name is resolved once, every address it has must be public, and the
connection goes to the very address that was looked at (the certificate is still
checked for the name). No redirect is followed, no proxy of the environment used, no
cookie kept. One deadline holds for everything: looking up, connecting and every byte.
"""

import http.client
import queue
import re
import socket
import ssl
import threading
import time
import zlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from ipaddress import IPv4Address, IPv6Address, ip_address, ip_network
from typing import Any
from urllib.parse import urlsplit

from orchard.sources.arriving import SourceUnavailable

HTTPS_PORT = 443
CONNECT_S, TOTAL_S = 5.0, 10.0
MOST_BYTES = 2 * 1024 * 1024
_CHUNK = 64 * 1024
_HOST = re.compile(r"([a-z0-9-]{1,63}\.)+[a-z0-9-]{1,63}", re.ASCII | re.IGNORECASE)
_ADDRESS = re.compile(r"https://[!-~]+", re.ASCII)

# What not every Python counts out: shared with a provider (RFC 6598), protocol
# assignments (RFC 6890), retired relays (RFC 7526), examples in books (RFC 9637).
_SPECIAL = tuple(
    ip_network(text)
    for text in (
        "100.64.0.0/10",
        "192.0.0.0/24",
        "192.88.99.0/24",
        "2001::/23",
        "3fff::/20",
    )
)
# RFC 6052 and RFC 3056: the last or middle 32 bits are an IPv4 address.
_NAT64 = ip_network("64:ff9b::/96")
_SIX_TO_FOUR = ip_network("2002::/16")
# RFC 4291: today's public IPv6; everything else is special or not given out.
_GLOBAL_UNICAST = ip_network("2000::/3")


class _PromptSocket(ssl.SSLSocket):
    """A TLS socket every read of which must come before one deadline.

    A socket's own timeout begins anew with each byte, so that a server which drips
    its answer would never meet it.
    """

    seconds_left: Callable[[], float] = staticmethod(lambda: TOTAL_S)

    def recv_into(self, buffer: Any, nbytes: int | None = None, flags: int = 0) -> int:
        """Read as ever, but not beyond the deadline."""
        self.settimeout(self.seconds_left())
        return super().recv_into(buffer, nbytes, flags)


def tls_context(*, own_roots: str | None = None) -> ssl.SSLContext:
    """Return what certificates are checked by: the system's roots, or ``own_roots``."""
    context = ssl.create_default_context(cadata=own_roots)
    context.sslsocket_class = _PromptSocket
    return context


def system_addresses(host: str, port: int) -> list[str]:
    """Return every address the system resolves a host to, in its order."""
    found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)
    return list(dict.fromkeys(str(entry[4][0]) for entry in found))


def dial(address: str, port: int, timeout_s: float) -> socket.socket:
    """Open a plain connection to a numeric address; nothing is looked up."""
    return socket.create_connection((address, port), timeout=timeout_s)


@dataclass(frozen=True, slots=True)
class Line:
    """How connections are made; tests take another resolver, port, roots and clock."""

    resolve: Callable[[str, int], Sequence[str]] = system_addresses
    dial: Callable[[str, int, float], socket.socket] = dial
    tls: ssl.SSLContext = field(default_factory=tls_context)
    clock: Callable[[], float] = time.monotonic
    port: int = HTTPS_PORT
    connect_s: float = CONNECT_S
    total_s: float = TOTAL_S
    most_bytes: int = MOST_BYTES


@dataclass(frozen=True, slots=True)
class Reply:
    """An answer as it came, unpacked; names of ``headers`` are in small letters."""

    status: int
    headers: Mapping[str, str]
    body: bytes


def is_public(address: str) -> bool:
    """Whether an address belongs to a machine of the public network.

    Everything that only looks like one is none: private, loopback, link-local, shared,
    multicast and reserved ones, also where IPv6 carries them (mapped, 6to4, NAT64).

    Parameters
    ----------
    address : str
        IPv4 or IPv6 in numbers. A zone ("%eth0") or anything else is not public.
    """
    try:
        known = ip_address(address)
    except ValueError:
        return False
    if isinstance(known, IPv6Address):
        if known.scope_id is not None:
            return False
        carried = _carried(known)
        if carried is None:
            return known in _GLOBAL_UNICAST and _is_nothing_special(known)
        known = carried
    return _is_nothing_special(known)


def _is_nothing_special(known: IPv4Address | IPv6Address) -> bool:
    # Python counts multicast groups as global: they are public but nobody's machine.
    is_common = not any(known in network for network in _SPECIAL)
    return is_common and known.is_global and not known.is_multicast


def _carried(known: IPv6Address) -> IPv4Address | None:
    """Return the IPv4 address that an IPv6 address stands for, if it does."""
    if known.ipv4_mapped is not None:
        return known.ipv4_mapped
    if known in _SIX_TO_FOUR:
        return known.sixtofour
    return IPv4Address(int(known) & 0xFFFFFFFF) if known in _NAT64 else None


def host_of(url: str) -> str:
    """Return the host an address names, in small letters.

    Raises
    ------
    SourceUnavailable
        It is no plain https address: another scheme or port, a name or password in
        it, characters no host has.
    """
    if not _ADDRESS.fullmatch(url):
        message = "The address is no https address"
        raise _lasting(message)
    try:
        parts = urlsplit(url)
        is_plain = parts.port in (None, HTTPS_PORT) and parts.username is None
    except ValueError:
        message = "The address is malformed"
        raise _lasting(message) from None
    host = parts.hostname or ""
    if not is_plain or not _HOST.fullmatch(host):
        message = "The address names no plain host"
        raise _lasting(message)
    return host


def get(url: str, headers: Mapping[str, str], line: Line | None = None) -> Reply:
    """Ask for ``url`` once, and return whatever status the server answers with.

    Parameters
    ----------
    url : str
        An https address.
    headers : mapping
        What to send beside ``Host`` and the one encoding that is understood, gzip.
    line : Line, optional
        How to connect; the public network else.

    Raises
    ------
    SourceUnavailable
        The address is not allowed, or no whole answer came in time and size.
    """
    return _ask("GET", url, headers, None, line)


def post(
    url: str, headers: Mapping[str, str], body: bytes, line: Line | None = None
) -> Reply:
    """Send ``body`` to ``url`` once, guarded as :func:`get` is; it raises the same."""
    return _ask("POST", url, headers, body, line)


def _ask(
    method: str,
    url: str,
    headers: Mapping[str, str],
    body: bytes | None,
    line: Line | None,
) -> Reply:
    host = host_of(url)
    line = line or Line()
    deadline = line.clock() + line.total_s

    def seconds_left() -> float:
        left = deadline - line.clock()
        if left <= 0:
            raise TimeoutError
        return left

    try:
        with _connected(host, line, seconds_left) as connection:
            connection.request(
                method,
                _target(url),
                body,
                {**headers, "Accept-Encoding": "gzip", "Connection": "close"},
            )
            with connection.getresponse() as response:
                return _read(response, host, line.most_bytes)
    except ssl.SSLCertVerificationError as error:
        message = f"The certificate of {host} is not valid: {error.verify_message}."
        raise SourceUnavailable(message) from error
    except TimeoutError as error:
        message = f"{host} did not answer within {line.total_s:g} seconds."
        raise SourceUnavailable(message) from error
    except ssl.SSLError as error:
        message = f"No safe connection to {host} could be made."
        raise SourceUnavailable(message) from error
    except (http.client.HTTPException, zlib.error) as error:
        message = f"The answer of {host} is broken."
        raise SourceUnavailable(message) from error
    except OSError as error:
        message = f"The connection to {host} broke off."
        raise SourceUnavailable(message) from error


def _target(url: str) -> str:
    parts = urlsplit(url)
    return (parts.path or "/") + (f"?{parts.query}" if parts.query else "")


@contextmanager
def _connected(
    host: str, line: Line, seconds_left: Callable[[], float]
) -> Iterator[http.client.HTTPConnection]:
    """Open a safe connection to a host's own public address, for one question."""
    addresses = _public_addresses(host, line, seconds_left)
    plain = _connect(host, addresses, line, seconds_left)
    try:
        plain.settimeout(min(line.connect_s, seconds_left()))
        secure = line.tls.wrap_socket(plain, server_hostname=host)
    except BaseException:
        plain.close()
        raise
    if isinstance(secure, _PromptSocket):
        secure.seconds_left = seconds_left
    connection = http.client.HTTPConnection(host)
    connection.sock = secure
    try:
        secure.settimeout(seconds_left())
        yield connection
    finally:
        connection.close()


def _public_addresses(
    host: str, line: Line, seconds_left: Callable[[], float]
) -> list[str]:
    """Resolve once; one address that is not public spoils them all."""
    found = _resolve_in_time(host, line, seconds_left)
    if not found:
        message = f"{host} has no address."
        raise SourceUnavailable(message)
    if not all(is_public(address) for address in found):
        message = f"{host} is not at a public address of the network"
        raise _lasting(message)
    # Many networks route no IPv6; where both are offered the other one always works.
    return sorted(found, key=lambda address: ":" in address)


def _resolve_in_time(
    host: str, line: Line, seconds_left: Callable[[], float]
) -> Sequence[str]:
    """Resolve in a thread: the system's resolver knows no timeout of ours."""
    results: queue.SimpleQueue[Sequence[str] | Exception] = queue.SimpleQueue()

    def resolve() -> None:
        try:
            results.put(line.resolve(host, line.port))
        except (OSError, UnicodeError) as error:
            results.put(error)

    threading.Thread(target=resolve, daemon=True).start()
    try:
        result = results.get(timeout=min(line.connect_s, seconds_left()))
    except queue.Empty:
        raise TimeoutError from None
    if isinstance(result, Exception):
        message = f"The name {host} cannot be looked up: is this machine online?"
        raise SourceUnavailable(message) from result
    return result


def _connect(
    host: str,
    addresses: Sequence[str],
    line: Line,
    seconds_left: Callable[[], float],
) -> socket.socket:
    """Connect to the first address that lets us, all of them within one allowance."""
    allowance_ends = line.clock() + line.connect_s
    failure: OSError = TimeoutError()
    for address in addresses:
        seconds = min(allowance_ends - line.clock(), seconds_left())
        if seconds <= 0:
            break
        try:
            return line.dial(address, line.port, seconds)
        except OSError as error:
            failure = error
    message = f"{host} cannot be reached."
    raise SourceUnavailable(message) from failure


def _read(response: http.client.HTTPResponse, host: str, most_bytes: int) -> Reply:
    headers = {name.lower(): value for name, value in response.getheaders()}
    packed = bytearray()
    while chunk := response.read(_CHUNK):
        packed += chunk
        if len(packed) > most_bytes:
            raise _too_large(host)
    if response.length:  # of what was announced, so much never came
        raise http.client.IncompleteRead(bytes(packed), response.length)
    encoding = headers.get("content-encoding", "identity").strip().lower()
    body = _unpacked(bytes(packed), encoding, host, most_bytes)
    return Reply(response.status, headers, body)


def _unpacked(packed: bytes, encoding: str, host: str, most_bytes: int) -> bytes:
    """Unpack no further than what is allowed, however much a small body holds."""
    if encoding in ("", "identity") or not packed:
        return packed
    if encoding not in ("gzip", "x-gzip"):
        message = f"{host} packed its answer in a way nobody asked for."
        raise SourceUnavailable(message)
    unpacker = zlib.decompressobj(wbits=16 + zlib.MAX_WBITS)
    body = unpacker.decompress(packed, most_bytes + 1)
    if len(body) > most_bytes:
        raise _too_large(host)
    if not unpacker.eof:
        raise zlib.error
    return body


def _too_large(host: str) -> SourceUnavailable:
    return SourceUnavailable(f"The answer of {host} is far too large for weather.")


def _lasting(words: str) -> SourceUnavailable:
    return SourceUnavailable(f"{words}; it was not asked.", is_lasting=True)
