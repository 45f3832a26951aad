"""Takes one tenant filter away at a time and tells whether a test notices.

By hand: ``python -m tests.mutations.tenancy [WORD ...]``. Words beginning with
``tests/`` choose the tests, others the places, by a part of their ``path:line``. No
file is changed: each mutant lives in the memory of a child process of its own.
"""

import ast
import gc
import logging
import os
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, FunctionType

import pytest

ROOT = Path(__file__).resolve().parents[2]
WHERE = (
    "orchard/access.py",
    "orchard/views/*.py",
    "orchard/actions/*.py",
    "care/views/*.py",
    "care/actions/*.py",
)
# A keyword of a look-up that says whose a row must be, but for its last part.
WHOSE = {"site", "orchard", "membership", "person", "owner", "made_by"}
NOT_WHOSE = {"emailaddress", "is_active", "is_demo"}
LOOKUPS = {"filter", "get", "exclude", "get_object_or_404", "Q"}
# Relations of a site or an orchard; the mutant looks at everybody's rows.
RELATIONS = {
    *("blocks", "trees", "clumps", "readings", "private_series", "frost_evenings"),
    *(
        "feeding_blackouts",
        "watering_rules",
        "sites",
        "members",
        "memberships",
        "invites",
    ),
    "station_keys",
    "emergency_contacts",
}
TESTS = (
    "tests/test_ids_of_another_orchard.py",
    "tests/test_two_orchards.py",
    "tests/test_every_address.py",
)


@dataclass(frozen=True, slots=True)
class Mutant:
    """One piece of a file and what stands there instead."""

    path: str
    source: bytes
    line: int
    start: int
    end: int
    said: str
    instead: str

    @property
    def place(self) -> str:
        """Where it is, as words choose it."""
        return f"{self.path}:{self.line}"


def mutants_of(path: Path) -> Iterator[Mutant]:
    """Yield what can be taken away from one file."""
    source = path.read_text()
    starts = [0]
    for line in source.encode().splitlines(keepends=True):
        starts.append(starts[-1] + len(line))
    for node in ast.walk(ast.parse(source)):
        for said, instead in _without(node):
            assert isinstance(node, ast.expr)
            assert node.end_lineno is not None
            assert node.end_col_offset is not None
            yield Mutant(
                path=str(path.relative_to(ROOT)),
                source=source.encode(),
                line=node.lineno,
                start=starts[node.lineno - 1] + node.col_offset,
                end=starts[node.end_lineno - 1] + node.end_col_offset,
                said=said,
                instead=f"({instead})",
            )


def _without(node: ast.AST) -> Iterator[tuple[str, str]]:
    if isinstance(node, ast.Call) and _name(node.func) in LOOKUPS:
        yield from _without_keyword(node)
    if isinstance(node, ast.Attribute) and node.attr in RELATIONS:
        owner = _name(node.value)
        if owner in {"site", "orchard", "joined"}:
            said = ast.unparse(node)
            yield said, f"{said}.model._default_manager"
    if isinstance(node, ast.Compare) and "orchard_id" in ast.unparse(node):
        yield ast.unparse(node), "True"


def _without_keyword(node: ast.Call) -> Iterator[tuple[str, str]]:
    for keyword in node.keywords:
        parts = (keyword.arg or "").split("__")
        if WHOSE.isdisjoint(parts) or NOT_WHOSE & set(parts):
            continue
        others = [each for each in node.keywords if each is not keyword]
        mutant = ast.Call(func=node.func, args=node.args, keywords=others)
        if _name(node.func) == "Q" and not others and not node.args:
            yield ast.unparse(keyword), "Q(pk__isnull=False)"
            continue
        yield f"{_name(node.func)} {ast.unparse(keyword)}", ast.unparse(mutant)


def _name(node: ast.expr) -> str:
    if isinstance(node, ast.Attribute):
        return node.attr
    return node.id if isinstance(node, ast.Name) else ""


def apply(mutant: Mutant) -> None:
    """Give the living functions of a file the code they have in the mutant."""
    path = ROOT / mutant.path
    whole = mutant.source
    changed = whole[: mutant.start] + mutant.instead.encode() + whole[mutant.end :]
    codes = dict(_codes(compile(changed, str(path), "exec", dont_inherit=True)))
    for each in gc.get_objects():
        # What is lazy would wake up if it were asked for its class.
        if type(each) is FunctionType and each.__code__.co_filename == str(path):
            each.__code__ = codes.get(each.__code__.co_qualname, each.__code__)


def _codes(code: CodeType) -> Iterator[tuple[str, CodeType]]:
    for each in code.co_consts:
        if isinstance(each, CodeType):
            if "<lambda>" not in each.co_qualname:
                yield each.co_qualname, each
            yield from _codes(each)


class Fork:
    """Runs the tests once as they are, then in a child process for every mutant."""

    def __init__(self, mutants: list[Mutant]) -> None:
        self.mutants = mutants
        self.failed = ""

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Keep the first test that notices."""
        if report.failed and not self.failed:
            self.failed = report.nodeid

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Begin with one test, which makes the database every child starts with."""
        self._run(session, session.items[:1], session.items[1])
        if failed := self.failed or self._in_child(session, None):
            pytest.exit(f"fails without any change: {failed}", returncode=1)
        survived = 0
        for number, mutant in enumerate(self.mutants, 1):
            noticed = self._in_child(session, mutant)
            survived += not noticed
            what = f"killed by {noticed}" if noticed else "SURVIVED"
            place = f"{number}/{len(self.mutants)} {mutant.place}"
            print(f"{place} {mutant.said}: {what}", flush=True)
        count = len(self.mutants)
        print(f"{count} mutants, {count - survived} killed, {survived} survived")
        self._run(session, session.items[1:], None)
        return True

    def _run(
        self,
        session: pytest.Session,
        items: list[pytest.Item],
        last: pytest.Item | None,
    ) -> None:
        for item, following in zip(items, [*items[1:], last], strict=True):
            session.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            if self.failed:
                return

    def _in_child(self, session: pytest.Session, mutant: Mutant | None) -> str:
        reader, writer = os.pipe()
        child = os.fork()
        if child == 0:
            try:
                if mutant:
                    apply(mutant)
                self._run(session, session.items, None)
                os.write(writer, self.failed.encode())
            except BaseException as error:  # noqa: BLE001 (the parent raises it)
                os.write(writer, f"nobody, it broke: {error!r}".encode())
            finally:
                os._exit(0)
        os.close(writer)
        with os.fdopen(reader) as answer:
            noticed = answer.read()
        os.waitpid(child, 0)
        if noticed.startswith("nobody"):
            raise RuntimeError(noticed)
        return noticed


def main(words: list[str]) -> int:
    """Try every mutant whose ``path:line`` holds one of the words; all without any."""
    tests = [word for word in words if word.startswith("tests/")] or list(TESTS)
    places = [word for word in words if not word.startswith("tests/")]
    mutants = [
        mutant
        for pattern in WHERE
        for path in sorted(ROOT.glob(pattern))
        for mutant in mutants_of(path)
        if not places or any(word in mutant.place for word in places)
    ]
    logging.disable()
    options = ["-q", "-s", "-p", "no:randomly", "-p", "no:cacheprovider"]
    return pytest.main([*options, "--nomigrations", *tests], plugins=[Fork(mutants)])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
