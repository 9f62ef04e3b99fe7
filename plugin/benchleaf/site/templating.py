"""Fragments laid out by Jinja, with every value made inert on its way out.

Takes the folders to look for templates in; gives text. Alone in knowing Jinja.
"""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from jinja2 import (
    ChoiceLoader,
    Environment,
    FileSystemLoader,
    PrefixLoader,
    StrictUndefined,
    Undefined,
)
from markupsafe import Markup

from benchleaf.site.addresses import Links
from benchleaf.site.escaping import escape_css, escape_text
from benchleaf.site.show import begin_sentence

THEME_DIR: Final = Path(__file__).parent / "theme"
"""Folder with our templates and assets; a theme's own folders go before it."""
_TEMPLATES: Final = "benchleaf"
"""Folder of the fragments within each theme folder: `overrides/benchleaf/step.html` overrides."""
ORIGINAL: Final = "original"
"""Under this name a fragment of a site's own reaches ours: `original/benchleaf/step.html`."""
# Addresses are made of anchors and fixed words; anything else in one is a mistake of ours.
_ADDRESS: Final = re.compile(r"[A-Za-z0-9/._#-]*")

# `29-1/2` as `escape_text` writes it: browsers would break the line at its hyphen.
_MIXED_NUMBER: Final = re.compile(r"≈?[0-9]+&#45;[0-9]+&#47;[0-9]+")


@dataclass(frozen=True, slots=True)
class Templates:
    """The fragments, from the first folder that has each."""

    environment: Environment
    digest: str
    """Changes when any template does."""

    def render(self, template: str, view: object, links: Links) -> str:
        """Lay one fragment out."""
        return self.environment.get_template(f"{_TEMPLATES}/{template}").render(
            view=view, links=links
        )


def open_templates(folders: tuple[Path, ...] = ()) -> Templates:
    """Make the fragments ready; `folders` go before our own, first come first served."""
    searched = list(dict.fromkeys([*folders, THEME_DIR]))
    ours = FileSystemLoader(THEME_DIR)
    # autoescape stays on beneath `finalize`: what slips past one meets the other.
    environment = Environment(
        loader=ChoiceLoader([FileSystemLoader(searched), PrefixLoader({ORIGINAL: ours})]),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_make_inert,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=True,
    )
    environment.filters["address"] = _write_address
    environment.filters["attribute"] = _write_attribute
    environment.filters["css"] = _write_css
    environment.filters["sentence"] = begin_sentence
    environment.filters["verbatim"] = _write_verbatim
    return Templates(environment, _digest(searched))


def _make_inert(value: object) -> object:
    """Escape what an expression gives, unless it came out of a template or is an address."""
    if isinstance(value, (Markup, Undefined)):  # the latter names itself when it is written
        return value
    if isinstance(value, (str, int)):
        inert = escape_text(str(value))
        whole = _MIXED_NUMBER.sub(r'<span class="bl-size">\g<0></span>', inert)
        return Markup(whole)  # noqa: S704 - all active characters are escaped
    raise TypeError(f"a template printed a {type(value).__name__}, which is not text")


def _write_address(address: str) -> Markup:
    if not _ADDRESS.fullmatch(address):
        raise ValueError(f"{address!r} is not an address of a page or drawing")
    return Markup(address)  # noqa: S704 - checked above


def _write_attribute(value: object) -> Markup:
    return Markup(escape_text(str(value)))  # noqa: S704 - all active characters are escaped


def _write_css(text: str) -> Markup:
    return Markup(escape_css(text))  # noqa: S704 - all active characters are escaped


def _write_verbatim(text: str) -> Markup:
    """Keep blanks as they are, for a line with a caret below it."""
    return Markup("&#32;".join(map(escape_text, text.split(" "))))  # noqa: S704 - escaped


def _digest(folders: list[Path]) -> str:
    digest = hashlib.sha256()
    for folder in folders:
        for path in sorted((folder / _TEMPLATES).glob("*.html")):
            digest.update(path.read_bytes())
    return digest.hexdigest()
