"""A browser for tests: Chromium without a window, pages served from a folder, pages printed."""

from __future__ import annotations

import base64
import functools
import http.server
import shutil
import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from PIL import Image, ImageOps
from selenium import webdriver
from selenium.webdriver.support.ui import WebDriverWait

# ISO 216 and ANSI/ASME Y14.1, inches as Chromium takes them: width, height.
PAPERS = {"A4": (210 / 25.4, 297 / 25.4), "Letter": (8.5, 11.0)}


def find_browser() -> tuple[str, str] | None:
    """Paths of Chromium and its driver, where they and poppler are installed."""
    browser = shutil.which("chromium") or shutil.which("chromium-browser")
    driver = shutil.which("chromedriver")
    has_poppler = shutil.which("pdftotext") and shutil.which("pdftoppm")
    return (browser, driver) if browser and driver and has_poppler else None


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002
        pass


@contextmanager
def serve(folder: Path) -> Iterator[str]:
    """Serve a folder on a free port of this machine; give its address."""
    handler = functools.partial(_Quiet, directory=str(folder))
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


@dataclass
class Browser:
    """Chromium, opened on one site."""

    driver: webdriver.Chrome
    address: str

    def open(self, path: str, *, width: int = 1280, height: int = 900) -> None:
        """Open a page of the site in a window of a size in CSS pixels."""
        self.driver.execute_cdp_cmd(
            "Emulation.setDeviceMetricsOverride",
            {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600},
        )
        self.driver.get(f"{self.address}{path}")

    def run(self, script: str) -> Any:
        """Run a script in the page and give what it returns."""
        return self.driver.execute_script(script)

    def settle(self) -> None:
        """Bring every change of colour or place under way to its end."""
        self.run("document.getAnimations().forEach(animation => animation.finish())")

    def wait_for(self, condition: str) -> None:
        """Wait until a script's expression is true."""
        WebDriverWait(self.driver, 10).until(lambda _: self.run(f"return {condition}"))

    def complaints(self) -> list[str]:
        """What the console has been told since the last call: errors and warnings."""
        logs: list[dict[str, Any]] = self.driver.get_log("browser")  # type: ignore[no-untyped-call]
        return [entry["message"] for entry in logs if entry["level"] in {"SEVERE", "WARNING"}]

    def print(self, paper: str, folder: Path) -> Printed:
        """Print the page as a reader does, on Letter or A4, background graphics off."""
        self.driver.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
        width, height = PAPERS[paper]
        printed = self.driver.execute_cdp_cmd(
            "Page.printToPDF",
            {"paperWidth": width, "paperHeight": height, "printBackground": False},
        )
        path = folder / f"{paper}.pdf"
        path.write_bytes(base64.b64decode(printed["data"]))
        return read_printed(path)


@dataclass(frozen=True)
class Sheet:
    """One printed sheet."""

    size: tuple[float, float]
    """Points."""
    text: str
    words: tuple[tuple[float, float, float, float, str], ...]
    """Left, top, right, bottom in points from the top left corner, and the word."""


@dataclass(frozen=True)
class Printed:
    """A page as printed."""

    path: Path
    sheets: tuple[Sheet, ...]

    @property
    def text(self) -> str:
        return " ".join(sheet.text for sheet in self.sheets)

    def inked(self, folder: Path) -> list[tuple[float, float, float, float]]:
        """Of each sheet, the box round all that is not white: left, top, right, bottom, points."""
        run = ("pdftoppm", "-r", "72", "-gray", str(self.path), str(folder / "sheet"))
        subprocess.run(run, check=True)
        boxes = []
        for path in sorted(folder.glob("sheet*.pgm")):
            with Image.open(path) as image:
                box = ImageOps.invert(image).getbbox() or (0, 0, 0, 0)
            boxes.append((float(box[0]), float(box[1]), float(box[2]), float(box[3])))
            path.unlink()
        return boxes


def read_printed(path: Path) -> Printed:
    """Read a printed page's words with poppler, which knows where they are."""
    run = ("pdftotext", "-bbox", str(path), "-")
    html = subprocess.run(run, check=True, capture_output=True, text=True).stdout
    # The words' characters are escaped; what else poppler writes is fit for an XML reader.
    pages = ElementTree.fromstring(html[html.index("<html") :].replace(' xmlns="', ' x="'))  # noqa: S314
    return Printed(path, tuple(_read_sheet(page) for page in pages.iter("page")))


def _read_sheet(page: ElementTree.Element) -> Sheet:
    words = tuple(
        (*(float(word.get(side, 0)) for side in ("xMin", "yMin", "xMax", "yMax")), word.text or "")
        for word in page.iter("word")
    )
    return Sheet(
        size=(float(page.get("width", 0)), float(page.get("height", 0))),
        text=" ".join(str(word[4]) for word in words),
        words=words,  # type: ignore[arg-type]
    )


@contextmanager
def open_browser(address: str) -> Iterator[Browser]:
    """Open Chromium on the site at an address."""
    found = find_browser()
    assert found is not None
    options = webdriver.ChromeOptions()
    options.binary_location = found[0]
    for argument in ("--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars"):
        options.add_argument(argument)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    driver = webdriver.Chrome(options=options, service=webdriver.ChromeService(found[1]))
    try:
        yield Browser(driver, address)
    finally:
        driver.quit()
