"""Which files of a folder are plans."""

from __future__ import annotations

from pathlib import Path

from benchleaf.site.sources import find_plans


def write(folder: Path, *names: str) -> None:
    for name in names:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(f"plan: {name}\n", encoding="utf-8")


def test_plans_lie_in_the_folder_or_in_folders_of_their_own(tmp_path: Path) -> None:
    write(tmp_path, "b.plan.yml", "a/a.plan.yaml", "notes.yml", "a/deep/c.plan.yml", "x.plan.txt")
    found = find_plans(tmp_path, "plans")
    assert [(source.name, source.file) for source in found.sources] == [
        ("a", "plans/a/a.plan.yaml"),
        ("b", "plans/b.plan.yml"),
    ]
    assert found.complaints == ()


def test_folder_that_is_not_there_holds_no_plans(tmp_path: Path) -> None:
    assert find_plans(tmp_path / "none", "plans").sources == ()


def test_second_plan_of_one_address_is_left_out_and_named(tmp_path: Path) -> None:
    write(tmp_path, "box.plan.yml", "box/box.plan.yml", "Box.plan.yaml")
    found = find_plans(tmp_path, "plans")
    assert [source.file for source in found.sources] == ["plans/Box.plan.yaml"]
    same = "has the same address as plans/Box.plan.yaml, plans/box/. It is left out: rename it."
    assert found.complaints == (f"plans/box.plan.yml {same}", f"plans/box/box.plan.yml {same}")


def test_plan_that_leads_out_of_the_folder_is_left_out(tmp_path: Path) -> None:
    secret = tmp_path / "secret.plan.yml"
    secret.write_text("password: hunter2\n", encoding="utf-8")
    folder = tmp_path / "plans"
    folder.mkdir()
    (folder / "a.plan.yml").symlink_to(secret)
    found = find_plans(folder, "plans")
    assert found.sources == ()
    assert found.complaints == (
        "plans/a.plan.yml leads out of the folder of plans. It is left out.",
    )


def test_file_that_is_not_utf_8_is_a_finding(tmp_path: Path) -> None:
    (tmp_path / "a.plan.yml").write_bytes(b"plan: \xff\n")
    found = find_plans(tmp_path, "plans")
    assert found.sources == ()
    assert [str(finding.place) for finding in found.findings] == ["plans/a.plan.yml:1:1"]
