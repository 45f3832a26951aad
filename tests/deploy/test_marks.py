"""Texts are marked where whoever collects them can read them."""

import ast
from io import BytesIO
from itertools import chain

from babel.messages.extract import extract

from deploy.translations import KEYWORDS, ROOT, sources


def marked_inside_braces(code: str) -> list[str]:
    """Return the texts marked inside an f-string, which Python 3.11 reads as one."""
    return [
        ast.unparse(call)
        for string in ast.walk(ast.parse(code))
        if isinstance(string, ast.JoinedStr)
        for call in ast.walk(string)
        if isinstance(call, ast.Call)
        and isinstance(call.func, ast.Name)
        and call.func.id in KEYWORDS
        and call.args
        and isinstance(call.args[0], ast.Constant)
    ]


def test_the_check_finds_one():
    assert marked_inside_braces("""f"{gettext('a')} {gettext(B)}" """) == [
        "gettext('a')"
    ]


def test_no_marked_text_stands_inside_braces():
    files = chain.from_iterable(
        (ROOT / name).rglob("*.py") for name in ("care", "orchard", "deploy")
    )
    found = {
        str(path.relative_to(ROOT)): texts
        for path in files
        if (texts := marked_inside_braces(path.read_text()))
    }
    assert found == {}


def test_no_text_is_marked_with_its_plural_in_one_place_and_without_in_another():
    """One of the two would not be found by the program that reads translations."""
    alone, counted = set(), {}
    for _, code in sources():
        for _, texts, _, context in extract(
            "python", BytesIO(code.encode()), keywords=KEYWORDS
        ):
            if isinstance(texts, tuple):
                counted.setdefault((context, texts[0]), set()).add(texts[1])
            elif texts:
                alone.add((context, texts))
    assert alone & counted.keys() == set()
    assert {text: many for text, many in counted.items() if len(many) > 1} == {}
