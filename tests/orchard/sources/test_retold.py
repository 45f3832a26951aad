import ast
import re
from pathlib import Path

import pytest
from django.utils import translation

import orchard
from orchard.forms.own_kinds import REFUSALS
from orchard.sources.retold import KEPT, retold

MODULES = ("asking", "network", "arriving", "column_forecast", "us_forecast")
ROOT = Path(orchard.__file__).parent


def sentences(path: Path) -> set[str]:
    """Return the texts a module writes, each gap as {}."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.JoinedStr):
            parts = [
                part.value if isinstance(part, ast.Constant) else "{}"
                for part in node.values
            ]
            found.add("".join(map(str, parts)))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            found.add(re.sub(r"\{\w+\}", "{}", node.value))
    return found


def test_every_sentence_is_one_that_is_kept_somewhere():
    paths = [ROOT / "sources" / f"{name}.py" for name in (*MODULES, "station_push")]
    paths += [ROOT / "actions" / f"{name}.py" for name in ("weather_asking",)]
    paths += [ROOT / "actions" / "arriving_weather.py"]
    written = set().union(*(sentences(path) for path in paths))
    written |= {words.replace("{}.", "{} higher.") for words in written}
    for template in KEPT:
        bare = re.sub(r"\{\w+\}", "{}", template)
        ends = ("; it was not asked.", " higher.", " lower.")
        stems = {bare, *(bare.removesuffix(end) for end in ends)}
        stems |= {f"{bare.removesuffix(end)} {{}}." for end in ends}
        assert stems & written, template


@pytest.mark.parametrize("template", KEPT)
def test_what_was_kept_is_told_word_for_word_in_english(template):
    kept = re.sub(r"\{(\w+)\}", r"\1.example", template)
    with translation.override("en"):
        assert retold(f"{kept} {kept}") == f"{kept} {kept}"


def test_every_refusal_of_a_figure_is_one_of_the_tables():
    paths = [ROOT / "catalogue" / f"{name}.py" for name in ("rows", "cultivars")]
    written = set().union(*(sentences(path) for path in paths))
    bare = {re.sub(r"\{\w+\}", "{}", template) for template in REFUSALS}
    assert bare <= written


def test_what_is_not_known_stays():
    assert retold("Something else entirely.") == "Something else entirely."
    assert retold("") == ""
