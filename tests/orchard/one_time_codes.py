"""The code an authenticator app shows, reckoned by ourselves after RFC 6238."""

import base64
import hashlib
import hmac
import struct

PERIOD_S = 30


def code_at(secret: str, seconds: float, *, digits: int = 6) -> str:
    """Return the code of a base-32 secret at a Unix time (RFC 6238 4.2, RFC 4226 5.3)."""
    padded = secret + "=" * (-len(secret) % 8)
    counter = struct.pack(">Q", int(seconds) // PERIOD_S)
    digest = hmac.new(base64.b32decode(padded), counter, hashlib.sha1).digest()
    offset = digest[-1] & 0xF
    number = struct.unpack(">I", digest[offset : offset + 4])[0] & 0x7FFFFFFF
    return str(number % 10**digits).zfill(digits)
