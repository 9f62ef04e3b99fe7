from __future__ import annotations

from benchleaf.reading import open_plan


def told(findings):
    return [str(finding) for finding in findings]


def test_a_plan_is_opened_without_its_byte_order_mark(tmp_path):
    path = tmp_path / "bench.plan.yml"
    path.write_bytes(b"\xef\xbb\xbfplan: B\xc3\xa4nk\n")  # the mark of UTF-8: RFC 3629, section 6
    assert open_plan(path) == ("plan: B\N{LATIN SMALL LETTER A WITH DIAERESIS}nk\n", ())


def test_bytes_that_are_no_utf_8_are_told_by_line(tmp_path):
    path = tmp_path / "bench.plan.yml"
    path.write_bytes(b"plan: Bench\nby: J\xfcrgen\n")  # Latin-1
    text, findings = open_plan(path, "plans/bench.plan.yml")
    assert text is None
    assert told(findings) == [
        (
            "plans/bench.plan.yml:2:1: the plan: the plan file is not in UTF-8 from here on\n"
            "  Save it as UTF-8, as editors offer when saving.   [R002]"
        )
    ]


def test_a_missing_file_is_a_finding(tmp_path):
    text, findings = open_plan(tmp_path / "no.plan.yml", "plans/no.plan.yml")
    assert text is None
    assert told(findings) == [
        (
            "plans/no.plan.yml:1:1: the plan: the plan file cannot be opened: "
            "no such file or directory\n"
            "  Check its path and its rights.   [R001]"
        )
    ]


def test_a_folder_is_a_finding(tmp_path):
    text, findings = open_plan(tmp_path, "plans")
    assert text is None
    assert [finding.code for finding in findings] == ["R001"]


def test_a_huge_file_is_not_read_to_its_end(tmp_path):
    path = tmp_path / "bench.plan.yml"
    with path.open("wb") as stream:
        stream.truncate(3_000_000_000)  # sparse: three gigabytes that take no room
    text, findings = open_plan(path, "plans/bench.plan.yml")
    assert text is None
    assert told(findings) == [
        (
            "plans/bench.plan.yml:1:1: the plan: the plan file has more than 1048579 bytes\n"
            "  Needed: at most 262144 characters. Split the piece into several plans.   [R003]"
        )
    ]
