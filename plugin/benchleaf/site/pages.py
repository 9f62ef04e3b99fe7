"""From worked plans to the files of a site: Markdown pages, drawings, gallery.

Takes worked plans with their drawings, and a writer; gives `GeneratedFile` records. Must not know
MkDocs or the disk.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import fields
from typing import Final

from benchleaf.buying.prices import PriceList
from benchleaf.drawing.scene import Scene
from benchleaf.drawing.svg import write_svg
from benchleaf.findings import Place
from benchleaf.pipeline import WorkedPlan
from benchleaf.site.addresses import GALLERY, drawing_uri, page_uri
from benchleaf.site.emit import PRINT_KEY, Writer
from benchleaf.site.escaping import escape_title, make_anchors
from benchleaf.site.records import (
    Figure,
    GalleryCard,
    GeneratedFile,
    Page,
    PlanPages,
    PlanSource,
)
from benchleaf.site.views.cutting import view_cutting
from benchleaf.site.views.elsewhere import view_elsewhere, view_other_shops
from benchleaf.site.views.joints import view_joints
from benchleaf.site.views.labels import view_labels
from benchleaf.site.views.materials import view_materials
from benchleaf.site.views.overview import make_card, view_broken_plan, view_overview
from benchleaf.site.views.parts import view_parts
from benchleaf.site.views.safety import view_safety
from benchleaf.site.views.schedule import view_schedule
from benchleaf.site.views.shopping import view_shopping
from benchleaf.site.views.sound import SoundPlan, take_sound_plan
from benchleaf.site.views.steps import view_steps
from benchleaf.site.views.strength import view_strength

# CSS Values 4, 6.2: 1 in is 96 px and 25.4 mm.
_PX_PER_MM: Final = 96 / 25.4


def view_plan(
    source: PlanSource,
    worked: WorkedPlan,
    scenes: Mapping[str, Scene],
    prices: PriceList | None = None,
) -> PlanPages:
    """Work out all pages of a plan; of a plan with errors, the page that says what to mend."""
    files = dict(zip(scenes, make_anchors((name, "drawing") for name in scenes), strict=True))
    figures = {name: _frame_scene(files[name], scene) for name, scene in scenes.items()}
    sound = take_sound_plan(worked, figures)
    if sound is None:
        return _view_broken(source, worked)
    pages = _view_pages(sound, source, prices)
    shown = set(_list_shown(pages))
    return PlanPages(
        source=source,
        title=sound.plan.title,
        revision=sound.plan.revision,
        pages=pages,
        card=make_card(sound, source.name),
        scenes={files[name]: scene for name, scene in scenes.items() if files[name] in shown},
    )


def _list_shown(pages: Iterable[Page]) -> Iterator[str]:
    """Names of the drawings that some page shows; no others are written."""
    for page in pages:
        for section in page.sections:
            for field in fields(section.view):  # type: ignore[arg-type] # views are records
                value = getattr(section.view, field.name)
                listed = value if isinstance(value, tuple) else (value,)
                yield from (one.name for one in listed if isinstance(one, Figure))


def _view_pages(
    sound: SoundPlan, source: PlanSource, prices: PriceList | None
) -> tuple[Page, ...]:
    """All pages, in the order in which the plan is printed."""
    return (
        view_overview(sound, source),
        view_safety(sound),
        view_shopping(sound, prices),
        view_materials(sound),
        view_cutting(sound),
        *view_labels(sound),
        *view_parts(sound),
        view_joints(sound),
        *view_strength(sound),
        view_schedule(sound),
        *view_steps(sound, view_elsewhere(sound)),
        *view_other_shops(sound),
    )


def _view_broken(source: PlanSource, worked: WorkedPlan) -> PlanPages:
    page, card = view_broken_plan(source, worked.plan, worked.findings)
    return PlanPages(
        source=source, title=page.title, revision="", pages=(page,), card=card, scenes={}
    )


def _frame_scene(name: str, scene: Scene) -> Figure:
    return Figure(
        name=name,
        width_px=round(scene.width * _PX_PER_MM),
        height_px=round(scene.height * _PX_PER_MM),
        title=scene.title,
        description=scene.description,
        scale=scene.scale,
    )


def write_plan(plan: PlanPages, writer: Writer) -> tuple[GeneratedFile, ...]:
    """Write all files of a plan: its pages, the page to print, its drawings."""
    pages = [_write_page(plan, page, writer) for page in plan.pages]
    if len(plan.pages) > 1:
        pages.append(_write_print_page(plan, writer))
    drawings = (
        GeneratedFile(src_uri=drawing_uri(plan.source.name, name), body=write_svg(scene))
        for name, scene in plan.scenes.items()
    )
    return (*pages, *drawings)


def _write_page(plan: PlanPages, page: Page, writer: Writer) -> GeneratedFile:
    name = plan.source.name
    is_first = page.key == "index"
    title = plan.title if is_first else f"{page.title} – {plan.title}"
    parts = writer.write_page(plan, page)
    return GeneratedFile(
        src_uri=page_uri(name, page.key),
        body=_join(parts),
        blocks=_blocks(parts),
        title=escape_title(title),
        meta=_meta(title, page.description, is_searched=page.is_searched),
        place=page.place,
        is_in_nav=is_first,
        parent=GALLERY if is_first else page_uri(name, page.parent),
        previous=page_uri(name, page.previous) if page.previous else "",
        next=page_uri(name, page.next) if page.next else "",
    )


def _write_print_page(plan: PlanPages, writer: Writer) -> GeneratedFile:
    name = plan.source.name
    title = f"Print – {plan.title}"
    parts = writer.write_print_page(plan)
    return GeneratedFile(
        src_uri=page_uri(name, PRINT_KEY),
        body=_join(parts),
        blocks=_blocks(parts),
        title=escape_title(title),
        meta=_meta(title, f"The whole plan of {plan.title}, to print.", is_searched=False),
        place=Place(file=plan.source.file, line=1, column=1),
        parent=page_uri(name, "index"),
    )


def write_gallery(cards: Sequence[GalleryCard], writer: Writer) -> GeneratedFile:
    """Write the page of all plans."""
    parts = writer.write_gallery(tuple(cards))
    return GeneratedFile(
        src_uri=GALLERY,
        body=_join(parts),
        blocks=_blocks(parts),
        title="Plans",
        meta=_meta("Plans", "All plans.", is_searched=True),
        is_in_nav=True,
    )


def _join(parts: tuple[str, ...]) -> str:
    return "\n\n".join(parts) + "\n"


def _blocks(parts: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(part for part in parts if part.startswith("<"))


def _meta(title: str, description: str, *, is_searched: bool) -> dict[str, object]:
    """Front matter; themes print its text unescaped, and a macro plugin is to keep off the page."""
    meta: dict[str, object] = {
        "title": escape_title(title),
        "description": escape_title(description),
        "render_macros": False,
    }
    if not is_searched:
        meta["search"] = {"exclude": True}
    return meta
