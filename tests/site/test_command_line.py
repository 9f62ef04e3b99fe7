"""The command line: what it prints, writes, and ends with."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from benchleaf.__main__ import main
from sites import build_site

GOOD = "good\nplan: x\n"
BAD = "bad\n  leg: 3/8\n  rail: 2\n"


pytestmark = pytest.mark.usefixtures("stand_in")


@pytest.fixture(autouse=True)
def _somewhere_else(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    for name in ("GITHUB_ACTIONS", "GITHUB_WORKSPACE", "GITHUB_STEP_SUMMARY"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.chdir(tmp_path)


def write(name: str, text: str) -> str:
    path = Path("plans") / f"{name}.plan.yml"
    path.parent.mkdir(exist_ok=True)
    path.write_text(text, "utf-8")
    return str(path)


def test_check_of_a_good_plan_ends_well(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", write("a", GOOD)]) == 0
    assert capsys.readouterr().out == "plans/a.plan.yml: nothing to say\n"


def test_check_shows_every_finding_of_every_file(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", write("a", BAD), write("b", GOOD), write("c", BAD)]) == 1
    out = capsys.readouterr().out
    assert out.count(": error: parts.leg: something on line") == 4
    assert "plans/a.plan.yml:2:3: error: parts.leg: something on line 2\n 2 |   leg: 3/8\n" in out
    assert "plans/c.plan.yml: 2 errors\n" in out


def test_warnings_fail_a_check_only_where_it_is_strict() -> None:
    path = write("a", "warn\na\nb\n")
    assert [main(["check", path]), main(["check", path, "--strict"])] == [0, 1]


def test_notes_never_fail_a_check() -> None:
    assert main(["check", write("a", "note\na\nb\n"), "--strict"]) == 0


def test_file_that_is_not_there_is_a_finding(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "plans/none.plan.yml"]) == 1
    assert "plans/none.plan.yml:1:1: error: the plan: the plan file cannot be opened" in (
        capsys.readouterr().out
    )


def test_github_gets_annotations_from_the_top_of_the_repository_and_a_summary(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    summary = tmp_path / "summary.md"
    monkeypatch.setenv("GITHUB_ACTIONS", "true")
    monkeypatch.setenv("GITHUB_WORKSPACE", str(tmp_path))
    monkeypatch.setenv("GITHUB_STEP_SUMMARY", str(summary))
    folder = tmp_path / "furniture"
    folder.mkdir()
    monkeypatch.chdir(folder)
    assert main(["check", write("a", BAD)]) == 1
    out = capsys.readouterr().out
    assert (
        "::error file=furniture/plans/a.plan.yml,line=2,col=3,title=P101 parts.leg::"
        "something on line 2%0ANeeded: something else.\n"
    ) in out
    assert summary.read_text("utf-8").startswith("Plans: 2 errors\n")


def test_no_annotations_elsewhere(capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", write("a", BAD)])
    assert "::error" not in capsys.readouterr().out


def test_export_writes_a_tree_that_builds_strictly_without_the_plugin(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    write("a", GOOD)
    assert main(["export", "docs"]) == 0
    assert capsys.readouterr().out.startswith("1 plan: ")
    (tmp_path / "docs" / "index.md").write_text("# Home\n\n[Plans](plans/index.md)\n", "utf-8")
    yml = tmp_path / "mkdocs.yml"
    yml.write_text(
        "site_name: x\nstrict: true\nmarkdown_extensions: [attr_list]\n"
        "extra_css: [assets/benchleaf/benchleaf.css]\n",
        "utf-8",
    )
    site = build_site(yml)
    assert site.error is None
    assert list(site.broken_links()) == []
    assert "plans/a/steps/rip-strips/index.html" in site.pages


def test_export_for_sites_of_files_has_addresses_of_files(tmp_path: Path) -> None:
    write("a", GOOD)
    main(["export", "docs", "--file-addresses"])
    overview = (tmp_path / "docs/plans/a/index.md").read_text("utf-8")
    assert 'href="materials.html"' in overview


def test_export_of_a_plan_with_errors_publishes_them_and_ends_badly(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    write("a", BAD)
    write("b", GOOD)
    assert main(["export", "docs"]) == 1
    assert "plans/a.plan.yml:2:3: error" in capsys.readouterr().err
    assert (tmp_path / "docs/plans/b/print.md").is_file()
    assert "not ready to build from" in (tmp_path / "docs/plans/a/index.md").read_text("utf-8")


def test_schema_is_draft_07(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema"]) == 0
    schema = json.loads(capsys.readouterr().out)
    assert schema["$schema"] == "http://json-schema.org/draft-07/schema#"


def test_command_line_never_imports_mkdocs() -> None:
    code = "import sys, benchleaf.__main__; print([m for m in sys.modules if m == 'mkdocs'])"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout == "[]\n"


def test_command_without_a_verb_says_how_it_is_used(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main([])
    assert ended.value.code == 2
    assert "check" in capsys.readouterr().err
