"""Text of strangers made inert: in HTML, Markdown headings, themes' titles and CSS strings.

Takes any text; gives text that no browser, Markdown extension, macro plugin or theme takes for
anything but words. Must not know pages.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from typing import Final

# Unicode 15, table 2-3: control (Cc), format (Cf: direction overrides among them), surrogate (Cs),
# private use (Co) and unassigned (Cn) characters have no business in a title or a sentence.
_UNSEEN: Final = frozenset({"Cc", "Cf", "Cs", "Co", "Cn"})
# Format characters that scripts and emoji need: zero-width non-joiner and joiner.
_JOINERS: Final = frozenset("\u200c\u200d")
# chosen: a word or six; three such folders and a file stay below the 255 characters of a path that
# some systems still allow.
_LONGEST_ANCHOR: Final = 60
_ACTIVE: Final = re.compile(r"[!-/:-@\[-`{-~]")
"""ASCII punctuation: all that HTML, Markdown, its extensions and Jinja give a meaning to."""
# Inch and foot marks and quotes as print has them; brackets as single guillemets.
_TITLE_MARKS: Final = str.maketrans(
    {"<": "‹", ">": "›", '"': "″", "'": "’", "`": "’", "{": "(", "}": ")"}
)


def clean_text(text: str) -> str:
    r"""Drop unseen characters and make every run of white space and controls one blank.

    >>> clean_text("a\x00b\u202ec\n d")
    'a bc d'
    """
    return " ".join("".join(map(_show_character, text)).split())


def _show_character(character: str) -> str:
    if character.isprintable() or character in _JOINERS:
        return character
    category = unicodedata.category(character)
    if category in _UNSEEN and category != "Cc":
        return ""
    return " "  # a control character, or some white space


def escape_text(text: str) -> str:
    """Write every ASCII punctuation mark as a character reference: inert in HTML and in Markdown.

    >>> escape_text("<b>{{ x }}</b>")
    '&#60;b&#62;&#123;&#123; x &#125;&#125;&#60;&#47;b&#62;'
    """
    return _ACTIVE.sub(lambda match: f"&#{ord(match[0])};", clean_text(text))


def escape_title(text: str) -> str:
    """Write a title that is safe however a theme prints it.

    Themes print titles unescaped, in text, in attributes, and after stripping tags and undoing
    character references. So there must be no mark left that any of these could make active.

    >>> escape_title('Nuts & <i>3/4"</i>')
    'Nuts &amp; ‹i›3/4″‹/i›'
    """
    return clean_text(text).translate(_TITLE_MARKS).replace("&", "&amp;")


def escape_css(text: str) -> str:
    r"""Write the inside of a CSS string (CSS Syntax 3, 4.3.7: a code point, ended by one blank).

    >>> escape_css('a"} b')
    'a\\22 \\7d  b'
    """
    return "".join(c if c.isalnum() or c == " " else f"\\{ord(c):x} " for c in clean_text(text))


def make_anchor(text: str, *, otherwise: str = "x") -> str:
    """Make an id or a part of an address: lower-case ASCII letters, digits, single hyphens.

    >>> make_anchor("Long rail, shape b")
    'long-rail-shape-b'
    >>> make_anchor("…", otherwise="A1")
    'a1'
    """
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    anchor = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")
    if len(anchor) > _LONGEST_ANCHOR:  # at the end of a word, where there is one
        anchor = anchor[: _LONGEST_ANCHOR + 1].rpartition("-")[0] or anchor[:_LONGEST_ANCHOR]
    return anchor or make_anchor(otherwise)


def make_anchors(texts: Iterable[tuple[str, str]], *, reserved: str = "") -> tuple[str, ...]:
    """Make one anchor for each (text, otherwise), no two alike and none `reserved`.

    >>> make_anchors([("Leg", "A"), ("leg!", "B"), ("index", "C")], reserved="index")
    ('leg', 'leg-2', 'index-2')
    """
    taken = {reserved}
    anchors = []
    for text, otherwise in texts:
        wanted = anchor = make_anchor(text, otherwise=otherwise)
        number = 1
        while anchor in taken:
            number += 1
            anchor = f"{wanted}-{number}"
        taken.add(anchor)
        anchors.append(anchor)
    return tuple(anchors)
