"""Plans come from strangers: a page is built alike whatever their words are.

The same site is built of plain words and of hostile ones; every page must have the very same
elements in the same order. What a hostile text could add, close or hide would show.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

import handmade_plan as handmade
from benchleaf.drawing.scene import Scene
from benchleaf.findings import Finding, Place, Severity
from benchleaf.pipeline import WorkedPlan
from benchleaf.safety.records import CallOut
from benchleaf.sequencing.records import Operation, Setting
from benchleaf.site.emit import Writer
from benchleaf.site.export import write_files
from benchleaf.site.pages import view_plan, write_gallery, write_plan
from benchleaf.site.templating import open_templates
from sites import Site, build_site, forget_plugins, write_site

HOSTILE = {
    "markup": "<script>alert(1)</script></div></table></section><!-- ",
    "attributes": '" onmouseover="alert(1)" style="position:fixed',
    "titles": "</title></head><body onload=alert(1)>&lt;/title&gt;&lt;img src=x&gt;",
    "macros": "{{ 7 * 7 }}{% include 'x' %}{# ",
    "markdown": "# h\n\n```\n</code>\n\n[a](javascript:b)\n\n| a | b |\n|---|---|\n\n<p>",
    "extensions": '--8<-- "mkdocs.yml"\n\n!!! note\n    x\n\n{: .y #z } [^1] *[A]: b\n/// x\n',
    "long": "W" * 5000,
    "unseen": "a\x00\x1b[2J\u202e\u2066\u200b\ufeffb\ud83d",
    "css": "'); } body { display: none } /* \\\" */ @import url(//example.org/x.css);",
}

# What sites commonly switch on, and what reads a page's text before Markdown does.
SETTINGS = {
    "markdown_extensions": [
        "attr_list",
        "footnotes",
        "md_in_html",
        "smarty",
        "tables",
        "toc",
        "pymdownx.magiclink",
        "pymdownx.snippets",
        "pymdownx.superfences",
    ]
}


def poison(text: str) -> WorkedPlan:
    """The hand-made plan with a text in every place that shows words of the plan's author."""
    worked = handmade.make_worked()
    assert worked.plan
    assert worked.piece
    assert worked.joinery
    assert worked.cut_plan
    assert worked.sequence
    assert worked.call_outs
    stock = {name: replace(line, material=text) for name, line in worked.plan.stock.items()}
    finish = worked.plan.finish
    assert finish
    plan = replace(
        worked.plan,
        title=text,
        author=text,
        licence=text,
        summary=text,
        revision=text,
        notes=(text,),
        finish=replace(finish, material=text),
        shop=replace(worked.plan.shop, glue=text),
        stock=stock,
    )
    parts = {name: replace(part, note=text) for name, part in worked.piece.parts.items()}
    joints = tuple(
        replace(joint, kind=text, first=text, second=text, note=text)
        for joint in worked.piece.joints
    )
    fits = tuple(
        replace(
            fit,
            sizes=tuple(replace(s, name=text, rule=text, source=text) for s in fit.sizes),
            setting_out=tuple(
                replace(s, what=text, reference=text, spacer=text) for s in fit.setting_out
            ),
            hardware=tuple(replace(h, kind=text, size=text) for h in fit.hardware),
        )
        for fit in worked.joinery.fits
    )
    shapes = tuple(
        replace(shape, name=f"{text} {number}")
        for number, shape in enumerate(worked.joinery.shapes)
    )
    piece = replace(worked.piece, plan=plan, parts=parts, joints=joints)
    steps = tuple(
        replace(
            step,
            title=text,
            phase=text,
            notes=(text,) * len(step.notes),
            operations=tuple(_poison_operation(o, text) for o in step.operations),
        )
        for step in worked.sequence.steps
    )
    return replace(
        worked,
        plan=plan,
        piece=piece,
        joinery=replace(worked.joinery, piece=piece, fits=fits, shapes=shapes),
        cut_plan=replace(worked.cut_plan, stock=tuple(stock.values())),
        sequence=replace(
            worked.sequence,
            steps=steps,
            operations=tuple(o for step in steps for o in step.operations),
        ),
        call_outs=replace(
            worked.call_outs,
            by_step={
                number: tuple(_poison_call_out(c, text) for c in call_outs)
                for number, call_outs in worked.call_outs.by_step.items()
            },
            cards={
                f"{text} {number}": tuple(_poison_call_out(c, text) for c in call_outs)
                for number, call_outs in enumerate(worked.call_outs.cards.values())
            },
        ),
        findings=(_finding(text, Severity.NOTE),),
    )


def _poison_operation(operation: Operation, text: str) -> Operation:
    return replace(
        operation,
        title=f"{text} too",
        tool=text,
        settings=tuple(Setting(name=text, value_mm=None, text=text) for _ in operation.settings),
        actions=(text,) * len(operation.actions),
        check=text if operation.check else "",
    )


def _poison_call_out(call_out: CallOut, text: str) -> CallOut:
    sources = tuple(replace(s, title=text, status=text) for s in call_out.sources)
    return replace(call_out, rule=text, hazard=text, control=text, sources=sources)


def _finding(text: str, severity: Severity) -> Finding:
    return Finding(
        code="P101",
        severity=severity,
        place=Place(file=handmade.FILE, line=1, column=2),
        subject=text,
        message=text,
        remedy=text,
    )


def draw(text: str) -> Mapping[str, Scene]:
    return {
        name: replace(handmade.make_scene(name, title=text), description=text)
        for name in ("assembled", "exploded", "sheet-ply-1", "joint-1", "step-glue-frame")
    }


def build(folder: Path, text: str, theme: str) -> Site:
    """Build a site of a sound plan and one with errors, both full of a text."""
    worked = poison(text)
    bad = WorkedPlan(
        file=handmade.FILE, plan=worked.plan, findings=(_finding(text, Severity.ERROR),)
    )
    file_text = text.encode(errors="replace").decode()
    yml = write_site(
        folder,
        {"bad-frame": file_text, "side-frame": file_text},
        **SETTINGS,
        theme={"name": theme},
    )
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            "benchleaf.site.plugin.work_plan",
            lambda _text, file, *_shops: bad if "bad" in file else worked,
        )
        patch.setattr("benchleaf.site.plugin.draw_plan", lambda _worked: draw(text))
        forget_plugins()
        try:
            return build_site(yml)
        finally:
            forget_plugins()


def shapes_of(site: Site) -> list[list[str]]:
    """The elements of every page of the plans, in order, pages sorted."""
    return sorted(page.tags for name, page in site.pages.items() if name.startswith("plans/"))


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Site]:
    """The site of plain words, by theme."""
    return cache(lambda theme: build(tmp_path_factory.mktemp("plain"), "plain words", theme))


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE.keys())
def test_pages_have_the_same_elements_whatever_the_words(
    tmp_path: Path, text: str, plain: Callable[[str], Site]
) -> None:
    site = build(tmp_path, text, "mkdocs")
    assert shapes_of(plain("mkdocs")) == shapes_of(site)
    assert list(site.broken_links()) == []


# The theme with the most places for a title, and Jinja filters that undo character references.
@pytest.mark.parametrize("kind", ["markup", "attributes", "titles"])
def test_titles_are_inert_wherever_the_documented_theme_puts_them(
    tmp_path: Path, kind: str, plain: Callable[[str], Site]
) -> None:
    site = build(tmp_path, HOSTILE[kind], "material")
    assert shapes_of(plain("material")) == shapes_of(site)


def test_exported_pages_come_through_markdown_as_the_plugins_own_do(tmp_path: Path) -> None:
    # The plugin keeps its blocks away from Markdown; an exported page goes through it whole.
    text = " ".join(HOSTILE.values())
    site = build(tmp_path / "plugin", text, "mkdocs")
    source = replace(handmade.SOURCE, text="x")
    plan = view_plan(source, poison(text), draw(text))
    yml = write_site(tmp_path / "export", {}, **SETTINGS, plugins=["search"])
    writer = Writer(open_templates(), directory_urls=True)
    write_files(
        yml.parent / "docs", [write_gallery([plan.card], writer), *write_plan(plan, writer)]
    )
    exported = build_site(yml, strict=True)
    pages = [name for name in site.pages if name.startswith("plans/side-frame/")]
    assert pages
    for name in pages:
        assert exported.pages[name].body.split() == site.pages[name].body.split(), name


def test_hostile_words_are_shown_as_they_were_written(tmp_path: Path) -> None:
    text = HOSTILE["markup"].strip()
    site = build(tmp_path, text, "mkdocs")
    assert text in site.pages["plans/side-frame/index.html"].body
    assert text in site.pages["plans/bad-frame/index.html"].body
    assert text in site.pages["plans/index.html"].body


def test_snippet_in_a_plan_includes_no_file(tmp_path: Path) -> None:
    site = build(tmp_path, HOSTILE["extensions"], "mkdocs")
    for name, page in site.pages.items():
        assert "site_name" not in page.text, name
