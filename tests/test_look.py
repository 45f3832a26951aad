"""The look: contrast in both schemes, directions that turn with the script, colours.

Contrast is reckoned as WCAG 2.2 defines relative luminance and contrast ratio; success
criterion 1.4.6 asks 7:1 of text, 1.4.11 asks 3:1 of the edges of what is pressed.
"""

import re
from pathlib import Path

import pytest

CSS = Path(__file__).parent.parent / "static" / "css" / "site.css"
TEXT, EDGE = 7.0, 3.0
HEX = re.compile(r"#[0-9a-fA-F]{3,8}\b")
#: Drawn for a camera or on paper: black on white whatever the reader's scheme.
FIXED = {".scan", ".square", "@media print"}


def rules() -> str:
    return re.sub(r"/\*.*?\*/", "", CSS.read_text(), flags=re.DOTALL)


def block(start: str) -> str:
    """Return what stands between the braces after ``start``."""
    text = rules()
    begin = text.index("{", text.index(start)) + 1
    depth, end = 1, begin
    while depth:
        depth += {"{": 1, "}": -1}.get(text[end], 0)
        end += 1
    return text[begin : end - 1]


def properties(text: str) -> dict[str, str]:
    return dict(re.findall(r"--([\w-]+):\s*(#[0-9a-fA-F]+)", text))


def schemes() -> dict[str, dict[str, str]]:
    light = properties(block(":root"))
    dark = properties(block("@media (prefers-color-scheme: dark)"))
    return {"light": light, "dark": {**light, **dark}}


def luminance(colour: str) -> float:
    """Return WCAG's relative luminance of ``#rrggbb``."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_reckoning_itself():
    # WCAG 2.2: black on white is 21:1. #767676 on white is the well-known 4.54:1.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


PAPERS = ("paper", "sheet", "tint", "alarm-tint")
WRITTEN = [
    *((ink, paper) for ink in ("ink", "soft") for paper in PAPERS),
    *(("accent", paper) for paper in ("paper", "sheet", "tint")),
    *(("alarm", paper) for paper in ("paper", "sheet", "alarm-tint")),
    ("accent-ink", "accent"),
]


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(("ink", "paper"), WRITTEN)
def test_text_stands_out_seven_to_one(scheme, ink, paper):
    colours = schemes()[scheme]
    assert contrast(colours[ink], colours[paper]) >= TEXT


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("paper", ["paper", "sheet"])
def test_the_edge_of_a_box_stands_out_three_to_one(scheme, paper):
    colours = schemes()[scheme]
    for edge in ("edge", "accent", "alarm"):
        assert contrast(colours[edge], colours[paper]) >= EDGE


def test_colours_stand_in_custom_properties_alone():
    text = rules()
    for start in (":root", "@media (prefers-color-scheme: dark)", "@media print"):
        text = text.replace(block(start), "")
    strays = [line for line in text.splitlines() if HEX.search(line)]
    assert all(line.split()[0] in FIXED for line in strays), strays


def test_nothing_names_left_or_right():
    # Where text runs from the right, start and end turn with it.
    named = re.findall(r"[\w-]*\b(?:left|right)\b[^;]*;", rules())
    assert named == []


def test_no_text_fades():
    # Ink that is let through is ink of less contrast than was reckoned above; what is
    # let through wholly is a file box that its own label stands for.
    assert set(re.findall(r"(?<![\w-])opacity:[^;]*", rules())) <= {
        "opacity: 0",
        "opacity: 1",
    }


def test_nothing_moves():
    text = rules()
    assert "transition" not in text
    assert re.findall(r"animation:[^;]*", text) == ["animation: loading 0s 300ms both"]
