"""A push service on this machine, and a browser that takes what it is handed."""

import base64
import json
import os

import http_ece
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

HOST = "push.example.org"


def text_of(raw: bytes) -> str:
    return base64.urlsafe_b64encode(raw).rstrip(b"=").decode()


class Browser:
    """Keys of one browser, as the Push API makes them (RFC 8291, section 2)."""

    def __init__(self, number: int = 1) -> None:
        self._key = ec.generate_private_key(ec.SECP256R1())
        self._secret = os.urandom(16)
        self.endpoint = f"https://{HOST}/send/{number}"

    @property
    def said(self) -> dict[str, str]:
        point = self._key.public_key().public_bytes(
            Encoding.X962, PublicFormat.UncompressedPoint
        )
        return {
            "endpoint": self.endpoint,
            "public_key": text_of(point),
            "auth_secret": text_of(self._secret),
        }

    def open(self, sealed: bytes) -> dict[str, str]:
        plain = http_ece.decrypt(
            sealed,
            private_key=self._key,
            auth_secret=self._secret,
            version="aes128gcm",
        )
        found: dict[str, str] = json.loads(plain)
        return found
