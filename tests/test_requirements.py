"""The pinned files and the ranges of pyproject.toml agree, and name no host."""

import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

ROOT = Path(__file__).parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))[
    "project"
]
LANES = {
    "lts": ["lts"],
    "next": ["next"],
    "lts-test": ["lts", "test"],
    "next-test": ["next", "test"],
}


def pins(lane: str) -> dict[str, Version]:
    text = (ROOT / "deploy" / f"requirements-{lane}.txt").read_text(encoding="utf-8")
    found = re.findall(
        r"^([A-Za-z0-9_.-]+)(?:\[[^]]*\])?==([^\s;]+)", text, re.MULTILINE
    )
    return {canonicalize_name(name): Version(version) for name, version in found}


@pytest.mark.parametrize("lane", LANES)
def test_every_range_holds_its_pin(lane):
    pinned = pins(lane)
    ranges = list(PROJECT["dependencies"])
    for extra in LANES[lane]:
        ranges += PROJECT["optional-dependencies"][extra]
    for text in ranges:
        requirement = Requirement(text)
        pin = pinned[canonicalize_name(requirement.name)]
        assert requirement.specifier.contains(pin), f"{text} does not hold {pin}"


@pytest.mark.parametrize("lane", LANES)
def test_pinned_files_carry_hashes_and_name_no_host(lane):
    text = (ROOT / "deploy" / f"requirements-{lane}.txt").read_text(encoding="utf-8")
    assert "://" not in text
    assert "--index-url" not in text
    assert text.count("==") <= text.count("--hash=sha256:")
