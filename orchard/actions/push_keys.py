"""The key by which push services know who sends (VAPID, RFC 8292).

It is made once and kept in the data folder for the program's owner alone. Browsers take
messages of the key they were given alone: where it is lost, devices are added anew.
"""

import base64
import tempfile
from contextlib import suppress
from datetime import datetime, timedelta
from functools import lru_cache
from pathlib import Path
from urllib.parse import urlsplit

from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    PublicFormat,
    load_pem_private_key,
)
from django.conf import settings

#: RFC 8292, section 2, allows a day at most.
TOKEN_LIFE = timedelta(hours=12)


def make_key_once() -> None:
    """Make the key where there is none; of two programs at once one makes it."""
    path = Path(settings.PUSH_KEY_FILE)
    if path.exists():
        return
    pem = ec.generate_private_key(ec.SECP256R1()).private_bytes(
        Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()
    )
    # Whole or not at all, and readable by its owner alone from the first byte on.
    with tempfile.NamedTemporaryFile(dir=path.parent) as whole:
        whole.write(pem)
        whole.flush()
        with suppress(FileExistsError):
            path.hardlink_to(whole.name)


@lru_cache(maxsize=4)
def _key_at(path: Path) -> ec.EllipticCurvePrivateKey:
    key = load_pem_private_key(path.read_bytes(), password=None)
    if not isinstance(key, ec.EllipticCurvePrivateKey):
        message = f"{path} holds no key of the curve P-256."
        raise TypeError(message)
    return key


def own_key() -> ec.EllipticCurvePrivateKey:
    """Return this server's key."""
    make_key_once()
    return _key_at(Path(settings.PUSH_KEY_FILE))


def public_key_text() -> str:
    """Return what a browser is given: the uncompressed point, in base64url."""
    point = own_key().public_key()
    raw = point.public_bytes(Encoding.X962, PublicFormat.UncompressedPoint)
    return base64.urlsafe_b64encode(raw).rstrip(b"=").decode()


def subject() -> str:
    """Return how a push service reaches whoever runs this server (RFC 8292, 2.1)."""
    contact: str = settings.ORCHARD_CONTACT
    if contact.startswith("https://"):
        return contact
    if contact and not contact.startswith("http"):
        return f"mailto:{contact}"
    if settings.BASE_URL.startswith("https://"):
        return str(settings.BASE_URL)
    return f"mailto:{settings.DEFAULT_FROM_EMAIL}"


def authorization(endpoint: str, now: datetime) -> str:
    """Return the header that vouches for one sending to ``endpoint``."""
    from py_vapid import Vapid02

    parts = urlsplit(endpoint)
    claims = {
        "aud": f"{parts.scheme}://{parts.netloc}",
        "exp": int((now + TOKEN_LIFE).timestamp()),
        "sub": subject(),
    }
    # Its own check of the subject knows no address with a path.
    signer = Vapid02(private_key=own_key(), conf={"no-strict": True})
    return str(signer.sign(claims)["Authorization"])
