"""How the author's own words are shown in findings: short, on one line, nothing hidden in them.

Takes text from a plan, gives text for a message. Plans come from strangers: what is quoted back
must not be able to reach a terminal's controls or turn the line round.
"""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterable
from typing import Final

# chosen: 40 characters show which value is meant and leave room for the sentence round it.
_SHOWN: Final = 40
# chosen: more than a dozen words to pick from are not read.
_LISTED: Final = 12
# chosen: three near names are a help, ten are a riddle.
_NEAR: Final = 3
# Controls (Cc), marks that reorder or hide (Cf), line and paragraph ends (Zl, Zp), half pairs (Cs),
# signs that each font draws as it likes (Co).
_HIDDEN: Final = {"Cc", "Cf", "Zl", "Zp", "Cs", "Co"}
# Line ends and tabs are space; the joiners shape letters in several scripts (Unicode 15, 23.2).
_HARMLESS: Final = "\n\t\N{ZERO WIDTH JOINER}\N{ZERO WIDTH NON-JOINER}"


def has_hidden(text: str) -> bool:
    r"""Tell whether a text holds signs that do not show, spaces and joiners apart.

    >>> has_hidden("oak"), has_hidden("oak\u202e")
    (False, True)
    """
    return any(unicodedata.category(sign) in _HIDDEN for sign in text if sign not in _HARMLESS)


def show(text: str) -> str:
    r"""Put a text on one line, without hidden signs, cut to a readable length.

    >>> show("birch\nplywood")
    'birch plywood'
    """
    start = text[: 4 * _SHOWN]
    plain = "".join("?" if has_hidden(sign) else sign for sign in re.sub(r"\s", " ", start))
    return plain if len(plain) <= _SHOWN else plain[: _SHOWN - 3] + "..."


def quote(text: str) -> str:
    """Show a text between backquotes, as findings set off the author's words."""
    return f"`{show(text)}`"


def join_words(words: Iterable[str], last: str = "or") -> str:
    """Set words off and list them.

    >>> join_words(["wide", "deep", "high"])
    '`wide`, `deep` or `high`'
    """
    quoted = [quote(word) for word in words]
    if len(quoted) > _LISTED:
        return ", ".join(quoted[:_LISTED]) + ", ..."
    if len(quoted) < 2:
        return "".join(quoted)
    return ", ".join(quoted[:-1]) + f" {last} {quoted[-1]}"


def nearest(word: str, choices: Iterable[str]) -> list[str]:
    """The choices that a word may have been meant for, nearest first.

    >>> nearest("Long rial", ["leg", "long rail", "seat"])
    ['long rail']
    """
    lowered = " ".join(show(word).lower().replace("_", " ").replace("-", " ").split())
    # chosen: 0.6, the usual cut-off of difflib, lets two letters of a short word be wrong.
    return difflib.get_close_matches(lowered, list(choices), n=_NEAR, cutoff=0.6)


def needed_word(what: str, word: str, choices: Iterable[str]) -> str:
    """Say which words would do, the nearest ones where the word looks like a slip.

    >>> needed_word("a part of the plan", "sead", ["leg", "seat"])
    'Needed: a part of the plan; the nearest is `seat`.'
    """
    known = list(choices)
    near = nearest(word, known)
    if near:
        are = "the nearest is" if len(near) == 1 else "the nearest are"
        return f"Needed: {what}; {are} {join_words(near, 'and')}."
    if not known:
        return f"Needed: {what}; there is none yet."
    return f"Needed: {what}: {join_words(known)}."
