"""What makes a drawing hard to read: words on words, lines through words, marks off the sheet."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise

from benchleaf.drawing.clearance import Rectangle, box_of_marks, box_of_text
from benchleaf.drawing.scene import Circle, Line, Mark, Scene, Text

# Boxes of text are measured with descenders that figures do not have: this much may be shared.
_SLACK_MM = 0.05


def faults_of(scene: Scene) -> list[str]:
    """All faults of a scene, in words; none where it is legible."""
    return [*_words_on_words(scene), *_lines_through_words(scene), *_off_the_sheet(scene)]


def texts_of(scene: Scene) -> list[str]:
    return [mark.text for mark in scene.marks if isinstance(mark, Text)]


def _words(scene: Scene) -> list[tuple[Text, Rectangle]]:
    return [
        (mark, box_of_text(mark).grown(-_SLACK_MM))
        for mark in scene.marks
        if isinstance(mark, Text)
    ]


def _words_on_words(scene: Scene) -> Iterator[str]:
    for (one, box), (other, place) in combinations(_words(scene), 2):
        if box.overlaps(place):
            yield f"{one.text!r} lies on {other.text!r}"


def _lines_through_words(scene: Scene) -> Iterator[str]:
    """Lines drawn over or under words; those that a later filled mark covers do not count."""
    for index, mark in enumerate(scene.marks):
        if isinstance(mark, Line):
            for text, box in _words(scene):
                if any(box.is_crossed_by(a, b) for a, b in pairwise(mark.points)) and not (
                    _is_covered(text, scene.marks[index + 1 :])
                ):
                    yield f"a {mark.role} line runs through {text.text!r}"


def _is_covered(text: Text, later: tuple[Mark, ...]) -> bool:
    """Tell whether a filled mark that is drawn later lies behind a text."""
    box = box_of_text(text)
    for mark in later:
        if isinstance(mark, Circle) and not mark.filled:
            continue
        if isinstance(mark, Line | Text):
            continue
        around = box_of_marks([mark])
        if around and around.grown(0.5).holds(box):
            return True
    return False


def _off_the_sheet(scene: Scene) -> Iterator[str]:
    sheet = Rectangle(0, 0, scene.width, scene.height)
    for mark in scene.marks:
        box = box_of_marks([mark])
        if box and not sheet.holds(box):
            yield f"{getattr(mark, 'text', type(mark).__name__)!r} lies off the sheet: {box}"
