"""The tutorial works as it is written: each block is added to the plan as a reader would add it."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from benchleaf.__main__ import main
from sites import build_site

TUTORIAL = Path(__file__).parents[2] / "docs" / "tutorial.md"
_FENCE = re.compile(r"^```(?P<info>.*?)\n(?P<body>.*?)^```$", re.MULTILINE | re.DOTALL)
_KEY = re.compile(r"(?P<indent> *)(?P<name>[^\s#-][^:]*):")


@dataclass(frozen=True)
class Stage:
    """The plan after one block, and what the tutorial says that `check` says of it."""

    number: int
    plan: str
    says: tuple[str, ...]


def blocks() -> Iterator[tuple[str, str]]:
    for fence in _FENCE.finditer(TUTORIAL.read_text(encoding="utf-8")):
        yield fence["info"], fence["body"]


def stages() -> list[Stage]:
    found: list[Stage] = []
    plan = ""
    for info, body in blocks():
        if info == "yaml":
            plan = add(plan, body)
            found.append(Stage(len(found) + 1, plan, ()))
        elif info == "text":
            last = found.pop()
            found.append(Stage(last.number, last.plan, (*last.says, body)))
    return found


def add(plan: str, block: str) -> str:
    """Add a block to a plan, as the tutorial tells its reader to.

    >>> add("a:\\n  b: 1\\nc: 2\\n", "a:\\n  b: 3\\n  d: 4\\n")
    'a:\\n  b: 3\\n  d: 4\\nc: 2\\n'
    """
    lines = plan.splitlines()
    _add_at(lines, block.splitlines(), (0, len(lines)), "")
    return "\n".join(lines) + "\n"


def _add_at(lines: list[str], block: list[str], span: tuple[int, int], indent: str) -> None:
    """Merge the entries of one level of a block into the lines of the same level of the plan."""
    for entry in _entries(block, indent):
        key = _KEY.match(entry[0])
        start, end = span
        at = next(
            (i for i in range(start, end) if key and lines[i].startswith(key[0])),
            None,
        )
        before = len(lines)
        if at is None:
            lines[end:end] = entry
        elif len(entry) == 1:
            lines[at] = entry[0]
        else:
            body = at + 1
            while body < end and (not lines[body].strip() or lines[body].startswith(indent + " ")):
                body += 1
            while not lines[body - 1].strip():
                body -= 1
            _add_at(lines, entry[1:], (at + 1, body), indent + "  ")
        span = (start, end + len(lines) - before)


def _entries(block: list[str], indent: str) -> list[list[str]]:
    entries: list[list[str]] = []
    for line in block:
        if line.startswith(indent) and line[len(indent) :][:1] not in {"", " "}:
            entries.append([line])
        elif entries:
            entries[-1].append(line)
    return entries


@pytest.fixture
def check(tmp_path, monkeypatch, capsys):
    """What `benchleaf check` prints of a plan, run beside the folder of plans."""

    def run(plan: str) -> str:
        (tmp_path / "plans").mkdir(exist_ok=True)
        (tmp_path / "plans" / "step-stool.plan.yml").write_text(plan, encoding="utf-8")
        main(["check", "plans/step-stool.plan.yml"])
        return capsys.readouterr().out

    monkeypatch.delenv("GITHUB_ACTIONS", raising=False)
    monkeypatch.delenv("GITHUB_WORKSPACE", raising=False)
    monkeypatch.chdir(tmp_path)
    return run


@pytest.mark.parametrize(
    "stage", [s for s in stages() if s.says], ids=lambda s: f"block {s.number}"
)
def test_check_prints_what_the_tutorial_shows(stage, check):
    assert check(stage.plan) == stage.says[0]


@pytest.mark.parametrize(
    "stage", [s for s in stages()[2:] if not s.says], ids=lambda s: f"block {s.number}"
)
def test_every_other_stage_has_nothing_to_report(stage, check):
    assert check(stage.plan) == "plans/step-stool.plan.yml: nothing to say\n"


def test_the_site_of_the_tutorial_is_built_and_its_links_lead_somewhere(tmp_path):
    settings = [body for info, body in blocks() if info == 'yaml title="mkdocs.yml"']
    (tmp_path / "mkdocs.yml").write_text(settings[0], encoding="utf-8")
    for folder, name, text in (
        ("docs", "index.md", "# My workshop\n"),
        ("plans", "step-stool.plan.yml", stages()[-1].plan),
    ):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / name).write_text(text, encoding="utf-8")
    site = build_site(tmp_path / "mkdocs.yml", strict=True)
    assert site.error is None
    assert "Step stool" in site.pages["plans/step-stool/index.html"].text
    assert list(site.broken_links()) == []
