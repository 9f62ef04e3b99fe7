"""The command line: check plans, write their pages for any generator, print the schema.

Takes arguments, reads plans, writes to the terminal and, for `export`, to a folder. It never needs
MkDocs.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from benchleaf import __version__
from benchleaf.drawing import draw_plan
from benchleaf.findings import Finding, Severity
from benchleaf.joinery import JOINT_WORDS
from benchleaf.pipeline import work_plan
from benchleaf.reading import open_plan, schema
from benchleaf.shaping import SHAPING_WORDS
from benchleaf.shops import USUAL_SHOP
from benchleaf.shops import schema as schema_of_shops
from benchleaf.site.emit import Writer
from benchleaf.site.export import write_files
from benchleaf.site.pages import write_gallery
from benchleaf.site.report import annotate, defuse, format_finding, summarise, write_job_summary
from benchleaf.site.shops import USUAL_OTHERS, Choice, find_shops
from benchleaf.site.show import show_count
from benchleaf.site.sources import FoundPrices, find_plans, find_prices
from benchleaf.site.templating import open_templates
from benchleaf.site.workshop import Workshop

_GOOD: Final = 0
_WRONG: Final = 1
"""What the command ends with where a plan has errors; a wrong command line ends with 2."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line; give what the process ends with."""
    options = _make_parser().parse_args(arguments)
    if options.command == "check":
        return _check(options.files, is_strict=options.strict)
    if options.command == "export":
        return _export(options)
    told = schema_of_shops() if options.of == "shops" else schema(JOINT_WORDS, SHAPING_WORDS)
    print(json.dumps(told, indent=2, ensure_ascii=False))
    return _GOOD


def _make_parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="benchleaf", description="Build plans for furniture: check them, write their pages."
    )
    parser.add_argument("--version", action="version", version=f"benchleaf {__version__}")
    commands = parser.add_subparsers(dest="command", required=True)
    check = commands.add_parser("check", help="say what is wrong with plans")
    check.add_argument("files", nargs="+", type=Path, metavar="FILE")
    check.add_argument("--strict", action="store_true", help="let warnings fail the check as well")
    export = commands.add_parser("export", help="write the plans' pages as Markdown")
    export.add_argument("folder", type=Path, metavar="DIR", help="source folder of the site")
    export.add_argument("--plans", type=Path, default=Path("plans"), help="folder of plans")
    export.add_argument("--prices", type=Path, help="file of prices, for the shopping lists")
    export.add_argument(
        "--file-addresses",
        action="store_true",
        help="for sites that build page.md to page.html and not to page/",
    )
    _add_shops(export)
    printed = commands.add_parser("schema", help="print the JSON Schema of plans, for editors")
    printed.add_argument("of", nargs="?", choices=("plans", "shops"), default="plans")
    return parser


def _add_shops(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--shops", type=Path, default=Path("shops"), help="folder of shops")
    parser.add_argument("--shop", default=USUAL_SHOP.name, help="name of the site's own shop")
    parser.add_argument(
        "--other-shop",
        action="append",
        metavar="SHOP",
        help="a shop that pages tell the other way for; may be given several times",
    )


def _check(files: Sequence[Path], *, is_strict: bool) -> int:
    findings: list[Finding] = []
    for path in files:
        file = _show_path(path)
        text, problems = open_plan(path, file)
        own = problems if text is None else work_plan(text, file).findings
        for finding in own:
            print(format_finding(finding, text or ""))
        print(f"{defuse(file)}: {summarise(own)}")
        findings += own
    if os.environ.get("GITHUB_ACTIONS") == "true":
        _tell_github(findings)
    return _verdict(findings, is_strict=is_strict)


def _verdict(findings: Sequence[Finding], *, is_strict: bool) -> int:
    failing = {Severity.ERROR, Severity.WARNING} if is_strict else {Severity.ERROR}
    return _WRONG if any(finding.severity in failing for finding in findings) else _GOOD


def _show_path(path: Path) -> str:
    """A file's path as GitHub knows it: from the top of the repository, where there is one."""
    top = os.environ.get("GITHUB_WORKSPACE", "")
    full = path.absolute()
    if top and full.is_relative_to(top):
        return full.relative_to(top).as_posix()
    return path.as_posix()


def _tell_github(findings: Sequence[Finding]) -> None:
    for command in annotate(findings):
        print(command)
    summary = os.environ.get("GITHUB_STEP_SUMMARY", "")
    if summary:
        with Path(summary).open("a", encoding="utf-8") as stream:
            stream.write(write_job_summary(findings))


def _export(options: argparse.Namespace) -> int:
    folder: Path = options.folder
    others = USUAL_OTHERS if options.other_shop is None else tuple(options.other_shop)
    choice = Choice(shop=options.shop, other_shops=others, told_in="--shop")
    shops = find_shops(options.shops, options.shops.as_posix(), choice)
    found = find_plans(options.plans, options.plans.as_posix())
    for complaint in found.complaints:
        print(complaint, file=sys.stderr)
    prices = _find_prices(options.prices)
    workshop = Workshop(
        work=work_plan,
        draw=draw_plan,
        prices=prices.prices,
        here=shops.here,
        others=shops.others,
    )
    writer = Writer(open_templates(), directory_urls=not options.file_addresses)
    done = {source: workshop.do(source) for source in found.sources}
    findings = [*found.findings, *prices.findings, *shops.findings]
    for finding in shops.findings:
        print(format_finding(finding, shops.texts.get(finding.place.file, "")), file=sys.stderr)
    for source, plan in done.items():
        findings += plan.findings
        for finding in plan.findings:
            print(format_finding(finding, source.text), file=sys.stderr)
    made = [write_gallery([plan.pages.card for plan in done.values()], writer)]
    for source in done:
        made += workshop.write(source, writer)
    count = write_files(folder, made)
    print(f"{show_count(len(done), 'plan')}: {show_count(count, 'file')} written to {folder}.")
    return _verdict(findings, is_strict=False)


def _find_prices(path: Path | None) -> FoundPrices:
    """The prices that the command line names, with what is wrong with them said."""
    if path is None:
        return FoundPrices()
    found = find_prices(path, _show_path(path), is_asked=True)
    for finding in found.findings:
        print(format_finding(finding, found.text), file=sys.stderr)
    return found


if __name__ == "__main__":
    sys.exit(main())
