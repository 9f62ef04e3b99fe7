"""The site's shops, and the pages that show the other way."""

from __future__ import annotations

from functools import cache
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

import pytest

from benchleaf.pipeline import work_plan
from benchleaf.shops import HAND_TOOLS, USUAL_SHOP, WITHOUT_TABLE_SAW
from benchleaf.site.emit import Writer
from benchleaf.site.pages import view_plan, write_plan
from benchleaf.site.records import PlanPages, PlanSource
from benchleaf.site.shops import Choice, find_shops
from benchleaf.site.templating import open_templates

ROOT = Path(__file__).parents[2]
SHOP = "shop: Ours & theirs <b>\nunits: in\nmachines:\n  router: yes\n"
OTHERS = (WITHOUT_TABLE_SAW, HAND_TOOLS)


def put(folder: Path, name: str, text: str) -> None:
    (folder / name).write_text(text, "utf-8")


def test_a_site_that_says_nothing_has_the_usual_shop_and_two_leaner_ones(tmp_path: Path) -> None:
    found = find_shops(tmp_path / "none", "shops", Choice())
    assert (found.here, found.others, found.findings) == (USUAL_SHOP, OTHERS, ())


def test_shops_are_read_from_the_folder(tmp_path: Path) -> None:
    put(tmp_path, "ours.shop.yml", SHOP)
    put(tmp_path, "notes.yml", "no: shop\n")
    found = find_shops(tmp_path, "shops", Choice(shop="ours", other_shops=["usual", "ours"]))
    assert found.here.machines() == ("router",)
    # Its own way needs no tab beside itself.
    assert found.others == (USUAL_SHOP,)
    assert found.findings == ()


def test_a_shop_that_is_not_there_is_found_with_the_nearest_name(tmp_path: Path) -> None:
    choice = Choice(shop="hand-tool", other_shops=["nowhere"])
    found = find_shops(tmp_path, "shops", choice)
    assert found.here == USUAL_SHOP
    assert [str(own) for own in found.findings] == [
        (
            "mkdocs.yml:1:1: plugins.benchleaf.shop: there is no shop `hand-tool`\n"
            "  Needed: a shop of the folder of shops, or one of ours; the nearest is `hand-tools`."
            "   [R983]"
        ),
        (
            "mkdocs.yml:1:1: plugins.benchleaf.other_shops: there is no shop `nowhere`\n"
            "  Needed: a shop of the folder of shops, or one of ours: `usual`, `no-table-saw` or "
            "`hand-tools`.   [R983]"
        ),
    ]


def test_a_shop_file_with_a_slip_is_told_and_not_used(tmp_path: Path) -> None:
    put(tmp_path, "ours.shop.yml", "shop: x\n")
    found = find_shops(tmp_path, "shops", Choice(shop="ours"))
    assert [own.code for own in found.findings] == ["R010", "R983"]
    assert found.texts == {"shops/ours.shop.yml": "shop: x\n"}


def test_the_demo_shop_makes_what_the_usual_one_makes() -> None:
    found = find_shops(ROOT / "shops", "shops", Choice(shop="fernhill"))
    assert found.findings == ()
    assert found.here.machines() == USUAL_SHOP.machines()


# Pages.


@cache
def pages(*others: str) -> PlanPages:
    name = "keepsake-box"
    file = f"plans/{name}.plan.yml"
    source = PlanSource(name=name, file=file, text=(ROOT / file).read_text("utf-8"))
    shops = [shop for shop in OTHERS if shop.name in others]
    worked = work_plan(source.text, source.file, USUAL_SHOP, shops)
    return view_plan(source, worked, {})


def write(plan: PlanPages) -> dict[str, str]:
    writer = Writer(open_templates(), directory_urls=True)
    return {made.src_uri: str(made.body) for made in write_plan(plan, writer)}


BOTH = ("no-table-saw", "hand-tools")
FINGERS = "plans/keepsake-box/steps/cut-the-fingers-of-the-sides-and-the-ends.md"


class Tabs(HTMLParser):
    """Radio buttons, labels and panels of a page, as a browser pairs them."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.inputs: list[dict[str, str | None]] = []
        self.labels: list[str | None] = []
        self.panels: list[str | None] = []
        self.ids: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = dict(attrs)
        if values.get("id"):
            self.ids.append(str(values["id"]))
        if tag == "input" and values.get("type") == "radio":
            self.inputs.append(values)
        elif tag == "label" and values.get("for"):
            self.labels.append(values["for"])
        elif values.get("class") == "bl-way":
            self.panels.append(values.get("aria-label"))


def test_a_step_that_shops_do_otherwise_has_a_tab_for_each() -> None:
    tabs = Tabs(write(pages(*BOTH))[FINGERS])
    assert tabs.panels == ["A usual small shop", "Without a table saw", "With hand tools"]
    assert len(tabs.inputs) == len(tabs.labels) == 3
    assert [own["id"] for own in tabs.inputs] == tabs.labels
    # HTML: buttons of one name are one choice, so that arrow keys go from one to the next.
    assert len({own["name"] for own in tabs.inputs}) == 1
    assert ["checked" in own for own in tabs.inputs] == [True, False, False]
    assert len(set(tabs.ids)) == len(tabs.ids)


def test_a_step_that_all_shops_do_alike_has_no_tabs() -> None:
    with_others, alone = write(pages(*BOTH)), write(pages())
    setting_out = "plans/keepsake-box/steps/set-out-the-sides.md"
    assert with_others[setting_out] == alone[setting_out]
    assert "bl-ways" in with_others[FINGERS]
    assert "bl-ways" not in alone[FINGERS]


def test_the_printed_plan_holds_the_sites_own_way_alone() -> None:
    assert write(pages(*BOTH))["plans/keepsake-box/print.md"] == (
        write(pages())["plans/keepsake-box/print.md"]
    )


@pytest.mark.parametrize("shop", OTHERS, ids=[shop.name for shop in OTHERS])
def test_each_other_shop_has_a_page_of_all_that_it_does_otherwise(shop: object) -> None:
    made = write(pages(*BOTH))
    name = shop.name  # type: ignore[attr-defined]
    text = made[f"plans/keepsake-box/ways/{name}.md"]
    assert "Saw down on the waste side of each line, on A1, A2, B1 and B2." in unescape(text)
    assert f"../ways/{name}/" in made["plans/keepsake-box/steps/index.md"]
    # Numbers of cuts are those of the one cutting diagram.
    assert made["plans/keepsake-box/cutting.md"] == write(pages())["plans/keepsake-box/cutting.md"]


def test_tools_tell_what_can_stand_in() -> None:
    text = write(pages())["plans/keepsake-box/materials.md"]
    row = text[text.index("Table saw") :]
    assert "hand saw" in row[: row.index("</tr>")]


def test_a_shops_name_is_inert_on_pages(tmp_path: Path) -> None:
    put(tmp_path, "ours.shop.yml", SHOP)
    shop = find_shops(tmp_path, "shops", Choice(shop="ours")).here
    source = pages().source
    worked = work_plan(source.text, source.file, USUAL_SHOP, (shop,))
    made = write(view_plan(source, worked, {}))
    assert "Ours & theirs <b>" in unescape(made[FINGERS])
    assert not [uri for uri, text in made.items() if "theirs <b>" in text]


def test_another_shop_adds_no_drawing() -> None:
    drawings = [uri for uri in write(pages(*BOTH)) if uri.endswith(".svg")]
    assert drawings == [uri for uri in write(pages()) if uri.endswith(".svg")]
