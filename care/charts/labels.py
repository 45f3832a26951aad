"""Labels that hang on trees: a code to read aloud and a square for phones.

Both are made of a tree's public id and hang in the open: they name a tree and open
nothing. A code is the first characters of the id in Crockford's base 32, which has no
I, L, O and U and reads them as 1, 1, 0 and as a mistake (Crockford, Base 32).
"""

from dataclasses import dataclass
from typing import Final
from uuid import UUID

import segno

ALPHABET: Final = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
_READ_AS: Final = str.maketrans({"I": "1", "L": "1", "O": "0", "-": None, " ": None})
_BITS: Final = 5
_ID_BITS: Final = 128
#: 40 bits, all of them random in a UUID of version 4 (RFC 9562, 5.4): among 10,000 trees
#: two share a code once in some 22,000 servers, and then both get longer ones.
SHORT: Final = 8
#: 60 bits, of which four say the version.
LONG: Final = 12
_GROUP: Final = 4

#: Level Q of ISO/IEC 18004 mends a quarter of a square that is dirty or torn.
ERROR_LEVEL: Final = "q"
#: ISO/IEC 18004 wants four modules of blank round it.
QUIET_MODULES: Final = 4
#: Width of the square without its blank, so that a phone at arm's length reads it [mm].
LEAST_WIDTH_MM: Final = 25.0


def code_of(public_id: UUID, length: int = SHORT) -> str:
    """Return the first characters of a tree's public id.

    Parameters
    ----------
    public_id
        Of the tree.
    length : int
        How many characters, of five bits each.
    """
    bits = public_id.int >> (_ID_BITS - _BITS * length)
    characters = []
    for _ in range(length):
        characters.append(ALPHABET[bits & (2**_BITS - 1)])
        bits >>= _BITS
    return "".join(reversed(characters))


def read_code(typed: str) -> str | None:
    """Return a code as it is kept, however it was typed; ``None`` for what is none."""
    code = typed.upper().translate(_READ_AS)
    is_code = len(code) in (SHORT, LONG) and set(code) <= set(ALPHABET)
    return code if is_code else None


def ids_between(code: str) -> tuple[UUID, UUID]:
    """Return the first and the last id that begin with a code."""
    bits = 0
    for character in code:
        bits = (bits << _BITS) | ALPHABET.index(character)
    free = _ID_BITS - _BITS * len(code)
    return UUID(int=bits << free), UUID(int=((bits + 1) << free) - 1)


def spoken(code: str) -> str:
    """Return a code in groups of four, as people read it aloud."""
    parts = [code[start : start + _GROUP] for start in range(0, len(code), _GROUP)]
    return " ".join(parts)


@dataclass(frozen=True, slots=True)
class Square:
    """An address as a square.

    ``modules`` are its rows and columns, ``width_mm`` is its width with the blank round
    it [mm], and ``svg`` the drawing in that very size.
    """

    modules: int
    width_mm: float
    svg: str

    @property
    def module_mm(self) -> float:
        """The width of one module [mm]."""
        return self.width_mm / (self.modules + 2 * QUIET_MODULES)


def square_of(address: str) -> Square:
    """Return an address as a square at least 25 mm wide without its blank.

    Raises
    ------
    segno.DataOverflowError
        The address is longer than a square holds.
    """
    made = segno.make_qr(address, error=ERROR_LEVEL, boost_error=False)
    modules = int(made.symbol_size(border=0)[0])
    whole = modules + 2 * QUIET_MODULES
    width_mm = round(LEAST_WIDTH_MM / modules * whole, 3)
    drawn = made.svg_inline(
        border=QUIET_MODULES, omitsize=True, dark="#000", light="#fff"
    )
    size = f'<svg width="{width_mm}mm" height="{width_mm}mm" '
    return Square(modules, width_mm, drawn.replace("<svg ", size, 1))
