"""Sending one message to one browser by its push service (RFC 8030, 8291, 8292).

Where a browser says its messages go is an address somebody else chose: only hosts of
known push services are talked to, by https at their usual port, at public addresses,
and no redirect is followed.
"""

import base64
import binascii
import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from http import HTTPStatus

from cryptography.hazmat.primitives.asymmetric import ec
from django.conf import settings

from orchard.actions.push_keys import authorization
from orchard.models import PushSubscription
from orchard.sources.arriving import SourceUnavailable
from orchard.sources.network import Line, host_of, post

#: The push services of the browsers, by what those hand out today; from memory.
HOSTS = frozenset(
    {
        "fcm.googleapis.com",
        "android.googleapis.com",
        "updates.push.services.mozilla.com",
    }
)
DOMAINS = (".push.apple.com", ".notify.windows.com")
LONGEST_LIFE = timedelta(hours=24)
SHORTEST_LIFE = timedelta(minutes=1)
#: Every push service takes 4096 bytes with what encryption adds (RFC 8030, 7.2).
TITLE_LETTERS, BODY_LETTERS = 120, 240
TAKEN = frozenset(
    {HTTPStatus.OK, HTTPStatus.CREATED, HTTPStatus.ACCEPTED, HTTPStatus.NO_CONTENT}
)
GONE = frozenset({HTTPStatus.NOT_FOUND, HTTPStatus.GONE})
#: RFC 8291, sections 2 and 3.2: an uncompressed point, and so long a secret.
SECRET_BYTES = 16


class EndpointError(Exception):
    """What a browser sent is no address and no keys of a push service."""


class PushError(Exception):
    """A push service did not take a message; it may later."""


class DeviceGoneError(PushError):
    """The browser does not take messages any more."""


@dataclass(frozen=True, slots=True)
class Notice:
    """What is shown on a device: short, and nothing that others may not see.

    ``topic`` names it: a later one of the same name replaces it while it waits.
    """

    title: str
    body: str
    path: str
    topic: str
    is_urgent: bool = False
    life: timedelta = LONGEST_LIFE

    @property
    def payload(self) -> bytes:
        """What the page's worker reads."""
        values = {
            "title": self.title[:TITLE_LETTERS],
            "body": self.body[:BODY_LETTERS],
            "path": self.path,
            "tag": self.topic,
        }
        return json.dumps(values, ensure_ascii=False).encode()


def new_line() -> Line:
    """Return how push services are reached: the public network."""
    return Line()


def check_endpoint(endpoint: str) -> None:
    """Let nothing pass but an https address of a known push service.

    Raises
    ------
    EndpointError
        It is none.
    """
    try:
        host = host_of(endpoint)
    except SourceUnavailable as error:
        raise EndpointError(str(error)) from error
    is_known = host in HOSTS or host in settings.PUSH_HOSTS or host.endswith(DOMAINS)
    if not is_known:
        message = f"{host} is no push service this server knows."
        raise EndpointError(message)


def check_keys(public_key: str, auth_secret: str) -> None:
    """Let nothing pass but a point of the curve and a secret of the right length.

    Raises
    ------
    EndpointError
        They are something else.
    """
    try:
        point, secret = _decoded(public_key), _decoded(auth_secret)
        ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), point)
    except (ValueError, binascii.Error) as error:
        message = "The browser's key is broken."
        raise EndpointError(message) from error
    if len(secret) != SECRET_BYTES:
        message = "The browser's secret is broken."
        raise EndpointError(message)


def _decoded(text: str) -> bytes:
    padded = text + "=" * (-len(text) % 4)
    return base64.b64decode(padded, altchars=b"-_", validate=True)


def push(*, device: PushSubscription, notice: Notice, now: datetime) -> None:
    """Hand a notice to a device's push service, encrypted for that device alone.

    Raises
    ------
    DeviceGoneError
        The service does not know the device any more.
    PushError
        It did not take the notice.
    """
    try:
        check_endpoint(device.endpoint)
        reply = post(
            device.endpoint,
            _headers(device, notice, now),
            _sealed(device, notice),
            new_line(),
        )
    except (EndpointError, SourceUnavailable) as error:
        raise PushError(str(error)) from error
    if reply.status in GONE:
        message = f"The push service answered {reply.status}."
        raise DeviceGoneError(message)
    if reply.status not in TAKEN:
        said = " ".join(reply.body[:80].decode(errors="replace").split())
        message = f"The push service answered {reply.status}. {said}".strip()
        raise PushError(message)


def _headers(
    device: PushSubscription, notice: Notice, now: datetime
) -> Mapping[str, str]:
    life = max(SHORTEST_LIFE, min(notice.life, LONGEST_LIFE))
    return {
        "Authorization": authorization(device.endpoint, now),
        "Content-Encoding": "aes128gcm",
        "Content-Type": "application/octet-stream",
        "TTL": str(int(life.total_seconds())),
        "Topic": notice.topic,
        "Urgency": "high" if notice.is_urgent else "normal",
    }


def _sealed(device: PushSubscription, notice: Notice) -> bytes:
    # What it brings along takes a second to load, and few programs send.
    from pywebpush import WebPusher

    keys = {"p256dh": device.public_key, "auth": device.auth_secret}
    sealer = WebPusher({"endpoint": device.endpoint, "keys": keys})
    return bytes(sealer.encode(notice.payload)["body"])
