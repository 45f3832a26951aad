"""What README and DEVELOPERS.md say is what the program has."""

import re
import subprocess
from pathlib import Path

import pytest

from care.rules import RULES
from deploy.environment import KNOWN, PREFIX
from deploy.supervisor import read_options

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
COMMANDS = sorted(
    path.stem
    for path in ROOT.glob("*/**/management/commands/*.py")
    if path.stem != "__init__" and ".venvs" not in path.parts
)


@pytest.mark.parametrize("name", sorted(KNOWN))
def test_every_setting_is_in_the_readme(name):
    assert f"`{PREFIX}{name}`" in README


def test_the_readme_names_no_setting_that_does_not_exist():
    named = set(re.findall(rf"{PREFIX}([A-Z_]+)", README))
    assert named <= set(KNOWN)


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_is_in_the_readme(command):
    assert re.search(rf"`{command} ", README)


@pytest.mark.parametrize("option", ["--host", "--port", "--data", "--empty"])
def test_every_option_of_run_is_in_the_readme(option):
    values = {"--host": "0.0.0.0", "--port": "9", "--data": "/tmp"}  # noqa: S104, S108 (only parsed)
    read_options([option, values[option]] if option in values else [option])
    assert option in README


def test_the_two_commands_exist_and_can_be_run():
    for script in ("deploy/run", "deploy/test", "deploy/manage", ".ci/run"):
        assert (ROOT / script).stat().st_mode & 0o111
    assert "./deploy/run" in README
    assert "./deploy/test" in README


@pytest.mark.parametrize("script", ["run", "test", "manage", "prepare.sh"])
def test_the_scripts_are_plain_posix_shell(script):
    done = subprocess.run(["sh", "-n", str(ROOT / "deploy" / script)], check=False)
    assert done.returncode == 0


def test_paths_in_the_developers_guide_exist():
    named = re.findall(
        r"`((?:orchard|care|deploy|tests|templates)/[\w./-]+)`", DEVELOPERS
    )
    assert named
    missing = [path for path in named if not (ROOT / path).exists()]
    assert missing == []


def test_every_rule_is_a_file_of_its_kind():
    for kind, _rule in RULES:
        assert (ROOT / "care" / "rules" / f"{kind}.py").exists()
