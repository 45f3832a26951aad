"""Sources of the catalogue as a reader can look them up."""

from dataclasses import dataclass
from urllib.parse import urlsplit


@dataclass(frozen=True, slots=True)
class Reference:
    """A source as a reader can look it up; ``address`` may be empty.

    ``language`` is the text's own, where it is not the page's.
    """

    text: str
    address: str = ""
    language: str = ""


def works(addresses: str) -> tuple[Reference, ...]:
    """Read the addresses of a table; a remark in brackets names the work.

    What is no address on the web is the work's name alone.
    """
    found = []
    for part in filter(None, addresses.split(" ; ")):
        address, _, remark = part.strip().partition(" (")
        host = (urlsplit(address).hostname or "").removeprefix("www.")
        if host:
            found.append(Reference(remark.removesuffix(")") or host, address))
        else:
            found.append(Reference(part.strip()))
    return tuple(found)
