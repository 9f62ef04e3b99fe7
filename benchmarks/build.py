"""Measure how long the site takes: the demo against plain Markdown, and each plan cold and cached.

    python benchmarks/build.py [--json FILE] [--rounds N]

The demo site is built as a reader builds it, by `mkdocs build` in a process of its own. So is a
site of as many pages of plain Markdown, with the same theme, extensions and plugins but for
Benchleaf. Then each plan alone is built twice in one process, as `mkdocs serve` does it: the second
build finds what the first one worked out. The machine is named beside the figures.
"""

from __future__ import annotations

import argparse
import json
import logging
import os
import platform
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import mkdocs
import yaml
from mkdocs.commands.build import build
from mkdocs.config import load_config

TOP = Path(__file__).parents[1]
# What the theme's users write on a page without drawings: headings, prose, a list, a table.
PLAIN_PAGE = """\
# Page {number}

The rail is cut to length with a stop on the fence, so that all four come out alike. Test the stop
on scrap before the first rail is cut, and check the last against the first.

## What you need

- a saw with a sharp crosscut blade
- a stop and two clamps
- a square, a rule and a pencil

## Sizes

| part | length | width | thickness | count |
|---|---|---|---|---|
| leg | 16-9/16 | 2-5/32 | 2-5/32 | 4 |
| long rail | 37-11/16 | 3 | 1-7/16 | 2 |
| end rail | 9-11/16 | 3 | 1-7/16 | 2 |
| slat | 10-5/8 | 3 | 23/32 | 10 |

## Check

Lay the four rails side by side on a flat surface and pass a fingertip over their ends. A step that
can be felt is a step that will be seen. Go on to [the next page](page-{next}.md).
"""


def main() -> int:
    """Measure, print a table, and write the figures where they are asked for."""
    options = read_options()
    # The theme's note about the future of its generator is not what is measured.
    os.environ["NO_MKDOCS_2_WARNING"] = "1"
    with tempfile.TemporaryDirectory() as folder:
        figures = measure(Path(folder), options.rounds)
    print_table(figures)
    if options.json:
        text = json.dumps(figures, indent=2, sort_keys=True) + "\n"
        Path(options.json).write_text(text, encoding="utf-8")
    return 0


def read_options() -> argparse.Namespace:
    """Read the command line."""
    parser = argparse.ArgumentParser(description="Measure how long the site takes to build.")
    parser.add_argument("--json", metavar="FILE", help="where to write the figures")
    parser.add_argument("--rounds", type=int, default=3, help="builds of each kind; 3 if left out")
    return parser.parse_args()


def measure(folder: Path, rounds: int) -> dict[str, object]:
    """Measure everything, in folders of its own."""
    demo = copy_project(folder / "demo")
    demo_seconds = median_build(demo, rounds)
    pages = count_pages(demo / "site")
    plain = write_plain_site(folder / "plain", pages)
    plain_seconds = median_build(plain, rounds)
    cold, cached = {}, {}
    for plan in sorted((TOP / "plans").glob("*.plan.yml")):
        name = plan.name.removesuffix(".plan.yml")
        cold[name], cached[name] = build_twice(copy_project(folder / name, only=plan.name))
    return {
        "machine": describe_machine(),
        "pages": pages,
        "pages_plain": count_pages(plain / "site"),
        "seconds_demo_build": round(demo_seconds, 2),
        "seconds_plain_build": round(plain_seconds, 2),
        "ratio_to_plain_build": round(demo_seconds / plain_seconds, 2),
        "seconds_cold_by_plan": cold,
        "seconds_cached_by_plan": cached,
        "rounds": rounds,
    }


def copy_project(folder: Path, only: str = "") -> Path:
    """Copy what the demo site is made of; with `only`, a single plan and a page to start from."""
    folder.mkdir()
    shutil.copytree(TOP / "plans", folder / "plans", ignore=_all_but(only) if only else None)
    if only:
        (folder / "docs").mkdir()
        (folder / "docs" / "index.md").write_text("# Home\n", encoding="utf-8")
    else:
        shutil.copytree(TOP / "docs", folder / "docs")
    settings = read_settings()
    if only:
        settings.pop("nav", None)
    write_settings(folder, settings)
    return folder


def _all_but(only: str) -> object:
    return lambda _folder, names: [n for n in names if n.endswith(".plan.yml") and n != only]


def read_settings() -> dict[str, object]:
    """Read the demo's settings."""
    return yaml.safe_load((TOP / "mkdocs.yml").read_text(encoding="utf-8"))


def write_settings(folder: Path, settings: dict[str, object]) -> None:
    """Write a site's settings."""
    text = yaml.safe_dump(settings, sort_keys=False)
    (folder / "mkdocs.yml").write_text(text, encoding="utf-8")


def write_plain_site(folder: Path, pages: int) -> Path:
    """Write a site of plain pages in the demo's theme: the front page in the nav, no other.

    The demo keeps its steps out of the nav too; a theme's cost grows with the square of the nav.
    """
    docs = folder / "docs"
    docs.mkdir(parents=True)
    for number in range(1, pages):
        following = number % (pages - 1) + 1
        text = PLAIN_PAGE.format(number=number, next=following)
        (docs / f"page-{number}.md").write_text(text, encoding="utf-8")
    (docs / "index.md").write_text("# Home\n", encoding="utf-8")
    settings = read_settings()
    settings["nav"] = ["index.md"]
    settings["not_in_nav"] = "/page-*.md"
    settings["plugins"] = [p for p in settings["plugins"] if _plugin_name(p) != "benchleaf"]
    write_settings(folder, settings)
    return folder


def _plugin_name(entry: object) -> str:
    return entry if isinstance(entry, str) else next(iter(entry))


def median_build(folder: Path, rounds: int) -> float:
    """Seconds of `mkdocs build`, start of Python included, as its user waits for it."""
    command = [sys.executable, "-m", "mkdocs", "build", "--quiet", "--site-dir", "site"]
    seconds = []
    for _ in range(rounds):
        start = time.perf_counter()
        subprocess.run(command, cwd=folder, check=True)
        seconds.append(time.perf_counter() - start)
    return statistics.median(seconds)


def build_twice(folder: Path) -> tuple[float, float]:
    """Seconds of a first and a second build in one process, as `mkdocs serve` makes them."""
    logging.getLogger("mkdocs").setLevel(logging.ERROR)
    seconds = []
    for number in range(2):
        start = time.perf_counter()
        config = load_config(str(folder / "mkdocs.yml"))
        if number == 0:
            config.plugins.on_startup(command="serve", dirty=False)
        build(config)
        seconds.append(round(time.perf_counter() - start, 2))
    return seconds[0], seconds[1]


def count_pages(site: Path) -> int:
    """Count the pages of a built site, without the page for addresses that are not there."""
    return sum(1 for page in site.rglob("*.html") if page.name != "404.html")


def describe_machine() -> dict[str, object]:
    """Name the machine and what runs on it."""
    model = platform.processor() or platform.machine()
    if Path("/proc/cpuinfo").exists():
        lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
        names = [line.partition(":")[2].strip() for line in lines if line.startswith("model name")]
        model = names[0] if names else model
    return {
        "processor": model,
        "cores": os.cpu_count(),
        "system": f"{platform.system()} {platform.release()}",
        "python": platform.python_version(),
        "mkdocs": mkdocs.__version__,
    }


def print_table(figures: dict[str, object]) -> None:
    """Print the figures as a table."""
    machine = figures["machine"]
    print(f"{machine['processor']}, {machine['cores']} cores, Python {machine['python']}")
    print(f"\n{'site':<28}{'pages':>8}{'seconds':>10}")
    print(f"{'demo':<28}{figures['pages']:>8}{figures['seconds_demo_build']:>10}")
    print(f"{'plain Markdown':<28}{figures['pages_plain']:>8}{figures['seconds_plain_build']:>10}")
    print(f"{'ratio':<36}{figures['ratio_to_plain_build']:>10}")
    print(f"\n{'plan alone, seconds':<28}{'cold':>8}{'cached':>10}")
    for name, cold in figures["seconds_cold_by_plan"].items():
        print(f"{name:<28}{cold:>8}{figures['seconds_cached_by_plan'][name]:>10}")


if __name__ == "__main__":
    raise SystemExit(main())
