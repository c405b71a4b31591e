"""What can be checked of the house's own rules is checked here, not asked for in a document."""

import ast
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "mancary"
LONGEST_MODULE = 300
MOST_MODULES = 12


def tracked() -> list[Path]:
    """The files git knows, or would take up."""
    told = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return [ROOT / line for line in told.stdout.splitlines() if (ROOT / line).is_file()]


def modules() -> list[Path]:
    return [path for path in tracked() if path.suffix == ".py"]


def test_no_module_is_longer_than_three_hundred_lines() -> None:
    long = {p.relative_to(ROOT): n for p in modules() if (n := _lines(p)) > LONGEST_MODULE}
    assert long == {}


def _lines(path: Path) -> int:
    return len(path.read_text(encoding="utf-8").splitlines())


def test_no_module_has_a_name_that_says_nothing() -> None:
    empty = {"utils", "util", "helpers", "common", "manager", "misc", "tools"}
    assert [p for p in SOURCE.rglob("*.py") if p.stem in empty] == []


@pytest.mark.parametrize(
    ("pattern", "why"),
    [
        (r"(?<![\w.:/<])/(?:work|root|home|tmp)/[a-z]", "a machine's path"),
        (r"(?i)pypi\.org|pythonhosted|npmjs|index-url|registry\.", "a registry's host"),
        (r"(?i)\btranscript\b", "a source that is not cited"),
        (r"(?i)\b(?:chatgpt|claude|copilot|language model|ai agent)\b", "who typed it"),
    ],
)
def test_no_file_holds_what_the_project_does_not_speak_of(pattern: str, why: str) -> None:
    here = Path(__file__)
    found = []
    for path in tracked():
        if path == here or path.suffix in {".png", ".xlsx", ".ico"}:
            continue
        text = path.read_text(encoding="utf-8", errors="replace")
        found += [f"{path.relative_to(ROOT)}: {hit.group()}" for hit in re.finditer(pattern, text)]
    assert found == [], why


def _public(tree: ast.Module) -> list[ast.FunctionDef | ast.ClassDef]:
    return [
        node
        for node in tree.body
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_")
    ]


@pytest.mark.parametrize("floor", ["usecases", "book", "handbook", "science", "sheets"])
def test_every_public_function_of_these_floors_says_what_it_does(floor: str) -> None:
    bare = [
        f"{path.relative_to(SOURCE)}: {node.name}"
        for path in (SOURCE / floor).rglob("*.py")
        for node in _public(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef) and ast.get_docstring(node) is None
    ]
    assert bare == []


def test_every_module_says_what_it_is() -> None:
    bare = [
        path.relative_to(SOURCE)
        for path in SOURCE.rglob("*.py")
        if ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) is None
    ]
    assert bare == []


def test_husbandry_and_science_read_no_clock() -> None:
    """Imports are watched by import-linter; a clock hides in a method."""
    clock = re.compile(r"\b(?:datetime\.now|date\.today|utcnow|time\.time)\(")
    told = [
        path.relative_to(SOURCE)
        for floor in ("husbandry", "science", "handbook")
        for path in (SOURCE / floor).rglob("*.py")
        if clock.search(path.read_text(encoding="utf-8"))
    ]
    assert told == []


def test_the_locks_carry_hashes_and_no_addresses() -> None:
    for lock in (ROOT / "locks").glob("*.txt"):
        text = lock.read_text()
        assert "://" not in text
        pinned = re.findall(r"^[a-z0-9][^\n]*==", text, re.MULTILINE)
        assert len(pinned) == len(re.findall(r"==[^\n]*\\\n\s+--hash=sha256:", text))


def test_ci_calls_what_the_readme_tells_a_newcomer() -> None:
    ci = (ROOT / ".ci" / "run").read_text()
    readme = (ROOT / "README.md").read_text()
    for command in ("make check", "make test"):
        assert command in ci
        assert command in readme
    assert "make demo" in readme
