"""Texts are marked where whoever collects them can read them."""

import ast
import re
from html.parser import HTMLParser
from io import BytesIO
from itertools import chain

from babel.messages.extract import extract
from django.template.base import Lexer, TokenType

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


#: What is read to somebody or shown, beside the text of a page.
READ = {"alt", "aria-label", "placeholder", "title", "data-name", "data-keep-words"}
#: Parts of class names and ids, and what is the same in every language.
NO_WORDS = {"page--wide", "walk", "(UTC),"}


class Words(HTMLParser):
    """Collects what a person would read of a page's own text."""

    def __init__(self):
        super().__init__()
        self.found: list[str] = []
        self.tag = ""

    def handle_starttag(self, tag, attrs):
        self.tag = tag
        self.note(*(value for name, value in attrs if name in READ and value))

    def handle_endtag(self, tag):
        self.tag = ""

    def handle_data(self, data):
        if self.tag != "script":
            self.note(data)

    def note(self, *texts: str) -> None:
        self.found += [
            text.strip()
            for text in texts
            if re.search(r"[^\W\d_]{3,}", text) and text.strip() not in NO_WORDS
        ]


def unmarked_words(template: str) -> list[str]:
    """Return what a template says outside its marks; what it fills in is a dot."""
    words, is_marked = Words(), False
    for token in Lexer(template).tokenize():
        if token.contents.startswith(("blocktranslate", "comment")):
            is_marked = True
        elif token.contents.startswith(("endblocktranslate", "endcomment")):
            is_marked = False
        elif not is_marked and token.token_type is TokenType.TEXT:
            words.feed(token.contents)
        elif not is_marked and token.token_type is TokenType.VAR:
            words.feed("·")
    return words.found


def test_what_is_not_marked_is_found():
    page = (
        '{% if a %}<p title="One {{ b }}">Two{% endif %}{% translate "Three" %}'
        "{% blocktranslate %}Four{% endblocktranslate %}</p>"
    )
    assert unmarked_words(page) == ["One ·", "Two"]


def test_no_template_says_anything_that_is_not_marked():
    found = {
        str(path.relative_to(ROOT)): words
        for path in (ROOT / "templates").rglob("*.*")
        if (words := unmarked_words(path.read_text()))
    }
    assert found == {}
