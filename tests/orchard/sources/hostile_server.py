"""A weather service on this machine that misbehaves in whatever way a test asks."""

import contextlib
import re
import socket
import ssl
import threading
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

from orchard.sources.network import Line, tls_context

HOST = "weather.example.org"
#: TEST-NET addresses are not public; this one is, and nobody here ever calls it.
PUBLIC = "8.8.4.4"
Behaviour = Callable[[socket.socket], None]


class Authority:
    """A certificate authority of our own, made anew for each run."""

    def __init__(self) -> None:
        self._key = ec.generate_private_key(ec.SECP256R1())
        self._name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Tests")])
        root = self._build(self._name, self._key.public_key())
        root = root.add_extension(
            x509.BasicConstraints(ca=True, path_length=0), critical=True
        )
        root = root.add_extension(
            x509.KeyUsage(
                digital_signature=False,
                content_commitment=False,
                key_encipherment=False,
                data_encipherment=False,
                key_agreement=False,
                key_cert_sign=True,
                crl_sign=True,
                encipher_only=False,
                decipher_only=False,
            ),
            critical=True,
        )
        identifier = x509.SubjectKeyIdentifier.from_public_key(self._key.public_key())
        root = root.add_extension(identifier, critical=False)
        self._identifier = identifier
        self.roots = self._pem(root.sign(self._key, hashes.SHA256()))

    def server_context(self, folder: Path, host: str = HOST) -> ssl.SSLContext:
        """Return what a server of ``host`` shows itself by."""
        key = ec.generate_private_key(ec.SECP256R1())
        subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, host)])
        leaf = self._build(subject, key.public_key()).add_extension(
            x509.SubjectAlternativeName([x509.DNSName(host)]), critical=False
        )
        leaf = leaf.add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(
                self._identifier
            ),
            critical=False,
        )
        path = folder / f"{host}.pem"
        path.write_bytes(
            key.private_bytes(
                serialization.Encoding.PEM,
                serialization.PrivateFormat.PKCS8,
                serialization.NoEncryption(),
            )
            + self._pem(leaf.sign(self._key, hashes.SHA256())).encode()
        )
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.load_cert_chain(path)
        return context

    def _build(
        self, subject: x509.Name, key: ec.EllipticCurvePublicKey
    ) -> x509.CertificateBuilder:
        now = datetime.now(UTC)
        return (
            x509.CertificateBuilder()
            .subject_name(subject)
            .issuer_name(self._name)
            .public_key(key)
            .serial_number(x509.random_serial_number())
            .not_valid_before(now - timedelta(days=1))
            .not_valid_after(now + timedelta(days=2))
        )

    @staticmethod
    def _pem(certificate: x509.Certificate) -> str:
        return certificate.public_bytes(serialization.Encoding.PEM).decode()


class Service:
    """What a running server heard, and how to reach it as if it were public."""

    def __init__(self, port: int, roots: str) -> None:
        self.port = port
        self.requests: list[bytes] = []
        self.dialled: list[str] = []
        self._roots = roots

    def line(self, **changes: Any) -> Line:
        """Return a line whose every call ends here; what was dialled is noted."""

        def dial(address: str, port: int, timeout_s: float) -> socket.socket:
            self.dialled.append(address)
            return socket.create_connection(("127.0.0.1", port), timeout_s)

        usual = Line(
            resolve=lambda host, port: [PUBLIC],
            dial=dial,
            tls=tls_context(own_roots=self._roots),
            port=self.port,
            connect_s=10.0,
            total_s=10.0,
        )
        return replace(usual, **changes)

    def body(self) -> bytes:
        """Return the body of the last question."""
        return self.requests[-1].partition(b"\r\n\r\n")[2]

    def headers(self) -> dict[str, str]:
        """Return the headers of the last question, names in small letters."""
        head = self.requests[-1].partition(b"\r\n\r\n")[0]
        lines = head.decode().split("\r\n")[1:]
        pairs = (line.split(": ", 1) for line in lines if line)
        return {name.lower(): value for name, value in pairs}


@contextlib.contextmanager
def serving(
    behave: Behaviour, context: ssl.SSLContext | None, roots: str
) -> Iterator[Service]:
    """Serve on a free port until the test ends; ``behave`` answers each question."""
    with socket.create_server(("127.0.0.1", 0)) as listener:
        service = Service(listener.getsockname()[1], roots)
        thread = threading.Thread(
            target=_serve, args=(listener, behave, context, service), daemon=True
        )
        thread.start()
        yield service
        # A listener that is closed under `accept` wakes it up.
        listener.shutdown(socket.SHUT_RDWR)
    thread.join(5)
    assert not thread.is_alive()


def _serve(
    listener: socket.socket,
    behave: Behaviour,
    context: ssl.SSLContext | None,
    service: Service,
) -> None:
    while True:
        try:
            plain, _ = listener.accept()
        except OSError:
            return
        # The visitor may hang up at any moment; that is what is being tested.
        with plain, contextlib.suppress(OSError):
            secure = context.wrap_socket(plain, server_side=True) if context else plain
            with secure:
                # Who speaks TLS to a server that does not says one thing and waits.
                heard = _question(secure) if context else plain.recv(4096)
                service.requests.append(heard)
                behave(secure)


def _question(connection: socket.socket) -> bytes:
    """Read a head, and as much of a body as it announces."""
    heard, wanted = b"", 0
    while b"\r\n\r\n" not in heard or len(heard) < wanted:
        part = connection.recv(4096)
        if not part:
            break
        heard += part
        head, ended, _ = heard.partition(b"\r\n\r\n")
        length = re.search(rb"(?i)content-length: (\d+)", head)
        wanted = len(head) + len(ended) + int(length[1] if length else 0)
    return heard


def says(status: str, *headers: str, body: bytes = b"") -> Behaviour:
    """Return a behaviour: one well-formed answer."""
    head = [f"HTTP/1.1 {status}", f"Content-Length: {len(body)}", *headers]
    whole = "\r\n".join(head).encode() + b"\r\n\r\n" + body
    return lambda connection: connection.sendall(whole)


def drips(first: bytes, again: bytes, *, every_s: float, most: int = 200) -> Behaviour:
    """Return a behaviour: a beginning, then a little more again and again."""

    def behave(connection: socket.socket) -> None:
        connection.sendall(first)
        pause = threading.Event()
        for _ in range(most):
            pause.wait(every_s)
            connection.sendall(again)

    return behave
