"""A reader of whole squares (ISO/IEC 18004), for the sizes that our addresses have.

It mends nothing: it tells whether what mends a square is right, by the syndromes of its
Reed-Solomon blocks. Tables are from memory; that another encoder's squares are read too
is what shows them to be right.
"""

from dataclasses import dataclass

# Version: blocks of level Q as (codewords, data codewords). ISO/IEC 18004, table 9.
BLOCKS = {
    2: [(44, 22)],
    3: [(35, 17)] * 2,
    4: [(50, 24)] * 2,
    5: [(33, 15)] * 2 + [(34, 16)] * 2,
    6: [(43, 19)] * 4,
}
LEVELS = {0b01: "L", 0b00: "M", 0b11: "Q", 0b10: "H"}
FORMAT_MASK = 0b101010000010010
MASKS = (
    lambda row, column: (row + column) % 2 == 0,
    lambda row, column: row % 2 == 0,
    lambda row, column: column % 3 == 0,
    lambda row, column: (row + column) % 3 == 0,
    lambda row, column: (row // 2 + column // 3) % 2 == 0,
    lambda row, column: row * column % 2 + row * column % 3 == 0,
    lambda row, column: (row * column % 2 + row * column % 3) % 2 == 0,
    lambda row, column: ((row + column) % 2 + row * column % 3) % 2 == 0,
)
BYTE_MODE = 0b0100


@dataclass
class Reading:
    """What a square says, its error level, and how many codewords of a block it mends."""

    text: str
    level: str
    mends: int
    is_whole: bool


def read_square(modules: list[list[bool]]) -> Reading:
    """Read a square without its blank."""
    size = len(modules)
    version = (size - 17) // 4
    level, mask = _format(modules)
    codewords = _codewords(modules, mask)
    blocks = _blocks(codewords, BLOCKS[version])
    data = b"".join(
        bytes(block[:count])
        for block, (_, count) in zip(blocks, BLOCKS[version], strict=True)
    )
    bits = "".join(f"{byte:08b}" for byte in data)
    assert int(bits[:4], 2) == BYTE_MODE
    length = int(bits[4:12], 2)
    letters = [int(bits[at : at + 8], 2) for at in range(12, 12 + 8 * length, 8)]
    total, count = BLOCKS[version][0]
    return Reading(
        text=bytes(letters).decode("latin-1"),
        level=level,
        mends=(total - count) // 2,
        is_whole=all(
            not any(_syndromes(block, total - count))
            for block, (total, count) in zip(blocks, BLOCKS[version], strict=True)
        ),
    )


def _format(modules: list[list[bool]]) -> tuple[str, int]:
    cells = [(8, at) for at in (0, 1, 2, 3, 4, 5, 7, 8)]
    cells += [(at, 8) for at in (7, 5, 4, 3, 2, 1, 0)]
    bits = 0
    for row, column in cells:
        bits = bits << 1 | modules[row][column]
    bits ^= FORMAT_MASK
    return LEVELS[bits >> 13], bits >> 10 & 0b111


def _is_function(row: int, column: int, size: int) -> bool:
    """Whether a module is of a finder, a timing line, the alignment or the format."""
    corner = (
        (row < 9 and column < 9)
        or (row < 9 and column >= size - 8)
        or (row >= size - 8 and column < 9)
    )
    alignment = size - 9 <= row < size - 4 and size - 9 <= column < size - 4
    return corner or alignment or 6 in (row, column)


def cells(size: int) -> list[tuple[int, int]]:
    """Return the modules that hold bits, in the order of the bits."""
    columns = [right for right in range(size - 1, 0, -2) if right > 6]
    columns += [5, 3, 1]
    return [
        (row, column)
        for number, right in enumerate(columns)
        for row in (range(size) if number % 2 else range(size - 1, -1, -1))
        for column in (right, right - 1)
        if not _is_function(row, column, size)
    ]


def _codewords(modules: list[list[bool]], mask: int) -> list[int]:
    bits = [
        modules[row][column] ^ MASKS[mask](row, column)
        for row, column in cells(len(modules))
    ]
    return [
        int("".join(str(int(bit)) for bit in bits[at : at + 8]), 2)
        for at in range(0, len(bits) - 7, 8)
    ]


def _blocks(codewords: list[int], sizes: list[tuple[int, int]]) -> list[list[int]]:
    """Undo the interleaving: data codewords first, then those that mend."""
    blocks: list[list[int]] = [[] for _ in sizes]
    left = iter(codewords)
    for number in range(max(count for _, count in sizes)):
        for block, (_, count) in zip(blocks, sizes, strict=True):
            if number < count:
                block.append(next(left))
    for _ in range(sizes[0][0] - sizes[0][1]):
        for block in blocks:
            block.append(next(left))
    return blocks


def _times(one: int, other: int) -> int:
    """Multiply in the field of 256 with x^8 + x^4 + x^3 + x^2 + 1."""
    product = 0
    while other:
        if other & 1:
            product ^= one
        one <<= 1
        if one & 256:
            one ^= 0b100011101
        other >>= 1
    return product


def _syndromes(block: list[int], count: int) -> list[int]:
    """Return the block as a polynomial at the roots of its generator: zero if whole."""
    found, root = [], 1
    for _ in range(count):
        value = 0
        for codeword in block:
            value = _times(value, root) ^ codeword
        found.append(value)
        root = _times(root, 2)
    return found
