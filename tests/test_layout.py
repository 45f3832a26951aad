"""The layout rules of DEVELOPERS.md, checked."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
MODULES = [
    path
    for package in ("orchard", "care", "deploy", "tests")
    for path in sorted((ROOT / package).rglob("*.py"))
    if "migrations" not in path.parts
]
VAGUE = {"utils", "helpers", "common", "misc", "base", "core", "signals", "managers"}
TOP_LEVEL = {
    "manage.py",
    "pyproject.toml",
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    ".gitignore",
    ".ci",
    "orchard",
    "care",
    "templates",
    "locale",
    "static",
    "tests",
    "deploy",
}


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(ROOT)))
def test_module_is_short_and_well_named(path):
    assert path.stem not in VAGUE
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 400


@pytest.mark.parametrize(
    "package",
    ["care.science", "care.rules", "care.scheduling", "care.facts", "care.proposals"],
)
def test_core_imports_without_django(package):
    code = (
        f"import pkgutil, importlib, sys, {package} as p\n"
        "[importlib.import_module(m.name) for m in "
        "pkgutil.walk_packages(getattr(p, '__path__', []), p.__name__ + '.')]\n"
        "sys.exit('django' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False)
    assert done.returncode == 0


@pytest.mark.parametrize("package", ["orchard", "care", "deploy"])
def test_every_folder_with_modules_is_a_package(package):
    folders = {path.parent for path in (ROOT / package).rglob("*.py")}
    assert [str(f) for f in folders if not (f / "__init__.py").exists()] == []


def test_nothing_else_stands_at_the_top():
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, check=True, capture_output=True, text=True
    ).stdout.splitlines()
    assert {line.split("/")[0] for line in listed} <= TOP_LEVEL
