"""Labels of trees: their codes, and squares beside another encoder's and in millimetres."""

import re
from uuid import UUID, uuid4

import pytest
import qrcode
from hypothesis import given, strategies as st

from care.charts.labels import (
    ALPHABET,
    LONG,
    SHORT,
    code_of,
    ids_between,
    read_code,
    spoken,
    square_of,
)
from tests.care.charts.square_reader import BLOCKS, cells, read_square

ADDRESS = "https://trees.example/t/SBCZ3AY5/"
LENGTHS = st.sampled_from([SHORT, LONG])


def test_a_code_is_the_first_bits_of_the_id():
    # Worked by hand: 0xCAD9F1ABC5 is 11001 01011 01100 11111 00011 01010 11110 00101.
    public_id = UUID("cad9f1ab-c5f5-43ad-89e7-55513f6d9c39")
    assert [ALPHABET.index(one) for one in code_of(public_id)] == [
        *(0b11001, 0b01011, 0b01100, 0b11111),
        *(0b00011, 0b01010, 0b11110, 0b00101),
    ]
    assert code_of(public_id) == "SBCZ3AY5"
    assert spoken(code_of(public_id)) == "SBCZ 3AY5"
    assert code_of(public_id, LONG).startswith("SBCZ3AY5")


@given(st.uuids(version=4), LENGTHS)
def test_an_id_lies_between_those_of_its_code_and_its_neighbours_do_not(one, length):
    code = code_of(one, length)
    first, last = ids_between(code)
    assert first <= one <= last
    for edge, step in ((first, -1), (last, 1)):
        assert code_of(edge, length) == code
        beyond = edge.int + step
        if 0 <= beyond < 2**128:
            assert code_of(UUID(int=beyond), length) != code


@given(st.uuids(version=4), LENGTHS)
def test_a_code_is_read_however_it_is_typed(one, length):
    code = code_of(one, length)
    assert not set("ILOU") & set(code)
    typed = spoken(code).lower().replace("1", "l").replace("0", "o")
    assert read_code(typed) == code
    assert read_code(code.replace("1", "I")) == code


@pytest.mark.parametrize(
    "typed", ["", "SBCZ", "SBCZ3AYU", "SBCZ3AY5X", "SBCZ3AY\u0665"]
)
def test_what_is_no_code_is_not_read(typed):
    assert read_code(typed) is None


def modules_of(svg, whole):
    """Return which modules of a drawing are dark, read from its lines."""
    rows = [[False] * whole for _ in range(whole)]
    path = re.search(r'stroke="#000" d="([^"]*)"', svg)[1]
    x = y = 0.0
    for command, numbers in re.findall(r"([Mmh])([-\d. ]*)", path):
        values = [float(one) for one in re.findall(r"-?[\d.]+", numbers)]
        if command == "h":
            for number in range(int(values[0])):
                rows[int(y)][int(x) + number] = True
            x += values[0]
        else:
            x, y = (
                (values[0], values[1])
                if command == "M"
                else (
                    x + values[0],
                    y + values[1],
                )
            )
    return rows


def other_square(text, level=qrcode.constants.ERROR_CORRECT_Q):
    """Return the modules of a square that another library draws."""
    made = qrcode.QRCode(error_correction=level, border=0)
    made.add_data(qrcode.util.QRData(text.encode(), mode=qrcode.util.MODE_8BIT_BYTE))
    made.make(fit=True)
    return made.get_matrix()


@pytest.mark.parametrize("letters", [0, 11, 25, 35])
def test_a_square_is_read_as_the_address_at_level_q_and_can_be_mended(letters):
    """As another encoder's is: so the reader is right, and so is the drawing."""
    address = f"https://{'a' * letters}.io/t/SBCZ3AY5/"
    square = square_of(address)
    rows = modules_of(square.svg, square.modules + 8)[4:-4]
    drawn = [row[4:-4] for row in rows]
    other = other_square(address)
    assert len(other) == len(drawn)
    for reading in (read_square(other), read_square(drawn)):
        assert reading.text == address
        assert reading.level == "Q"
        assert reading.is_whole
        # Level Q: about a quarter of a block's codewords.
        assert reading.mends * 4 >= BLOCKS[(len(drawn) - 17) // 4][0][0]
    torn = [list(row) for row in drawn]
    torn[len(torn) // 2][1] ^= True
    assert not read_square(torn).is_whole


def test_a_patch_of_a_tenth_anywhere_leaves_enough_to_mend_the_rest():
    """What a leaf or a drip covers: no block loses more codewords than it mends.

    That a camera still finds the square is not tried here: there is no reader of photos
    among the tests' libraries.
    """
    size, side = 33, 11
    assert side**2 > 0.1 * size**2
    (codewords, data), other = BLOCKS[4]
    assert other == (codewords, data)
    of = {cell: number // 8 for number, cell in enumerate(cells(size))}
    worst = 0
    for top in range(size - side + 1):
        for left in range(size - side + 1):
            hit = {
                of[row, column]
                for row in range(top, top + side)
                for column in range(left, left + side)
                if of.get((row, column), 100) < 2 * codewords
            }
            worst = max(worst, *(sum(one % 2 == at for one in hit) for at in (0, 1)))
    assert 0 < worst <= (codewords - data) // 2


@pytest.mark.parametrize("letters", [0, 11, 25, 35, 60, 120])
def test_every_square_is_wide_enough_and_has_its_blank(letters):
    square = square_of(f"https://{'a' * letters}.example/t/SBCZ3AY5/")
    dark_mm = square.module_mm * square.modules
    assert dark_mm >= 25 - 1e-3
    assert square.width_mm == pytest.approx(dark_mm + 8 * square.module_mm)
    assert f'width="{square.width_mm}mm" height="{square.width_mm}mm"' in square.svg
    rows = modules_of(square.svg, square.modules + 8)
    rim = range(4)
    assert not any(any(rows[at]) or any(rows[-1 - at]) for at in rim)
    assert not any(row[at] or row[-1 - at] for at in rim for row in rows)
    # ISO/IEC 18004: the three finder patterns.
    for top, left in ((4, 4), (4, -11), (-11, 4)):
        assert all(rows[top][left : left + 7])


def test_two_labels_of_one_row_fit_both_sheets():
    # A4 is 210 mm wide, Letter 215.9 mm; browsers leave some 10 mm at each side.
    label_mm = 88
    for sheet_mm in (210, 215.9):
        assert 2 * label_mm <= sheet_mm - 2 * 10
    assert square_of(ADDRESS).width_mm < label_mm / 2


def test_codes_of_many_trees_differ():
    assert len({code_of(uuid4()) for _ in range(2000)}) == 2000
