"""What the front pages of the project show is true of the project."""

import re
from pathlib import Path

import pytest

from benchleaf.pipeline import work_plan
from benchleaf.site.report import format_finding

TOP = Path(__file__).parents[2]
_FENCE = re.compile(r"^```(?P<info>\w+)\n(?P<body>.*?)^```$", re.MULTILINE | re.DOTALL)
_LINK = re.compile(r"\]\((?P<target>[^)#:]+)\)")


def blocks(info: str) -> list[str]:
    text = (TOP / "README.md").read_text(encoding="utf-8")
    return [fence["body"] for fence in _FENCE.finditer(text) if fence["info"] == info]


def report(plan: str) -> str:
    findings = work_plan(plan, "plans/step-stool.plan.yml").findings
    return "".join(format_finding(finding, plan) + "\n" for finding in findings)


def test_the_plan_in_the_readme_works():
    assert report(blocks("yaml")[0]) == ""


def test_the_finding_in_the_readme_is_what_a_slip_in_that_plan_gives():
    slip = blocks("yaml")[0].replace("mirrored(left-right).left", "mirrored(left-right).left - 1/8")
    assert report(slip) == blocks("text")[0]


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md", "CHANGELOG.md"])
def test_links_between_files_lead_somewhere(page):
    targets = [link["target"] for link in _LINK.finditer((TOP / page).read_text(encoding="utf-8"))]
    assert [target for target in targets if not (TOP / target).exists()] == []
