"""The plans' place in a site's navigation.

Takes the `nav` of a site as its author wrote it; gives it with the placeholder `plans/` replaced by
the gallery and the plans' first pages.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from benchleaf.site.records import HOME

_PLACEHOLDERS: Final = (HOME, f"{HOME}/")


def expand_nav(nav: Any, pages: Sequence[str]) -> tuple[Any, bool]:
    """Replace the placeholder by pages.

    Args:
        nav: A list of entries, an entry, or the value of one, as YAML gives them.
        pages: Source paths to put in its place.

    Returns:
        The navigation, and whether it held the placeholder.

    >>> expand_nav([{"Home": "index.md"}, {"Plans": "plans/"}], ["plans/index.md"])
    ([{'Home': 'index.md'}, {'Plans': ['plans/index.md']}], True)
    """
    if isinstance(nav, str):
        return (list(pages), True) if nav in _PLACEHOLDERS else (nav, False)
    if isinstance(nav, dict):
        values = {key: expand_nav(value, pages) for key, value in nav.items()}
        return {key: value for key, (value, _) in values.items()}, any(
            found for _, found in values.values()
        )
    if isinstance(nav, list):
        return _expand_list(nav, pages)
    return nav, False


def _expand_list(nav: list[Any], pages: Sequence[str]) -> tuple[list[Any], bool]:
    expanded: list[Any] = []
    found = False
    for entry in nav:
        value, has_placeholder = expand_nav(entry, pages)
        found = found or has_placeholder
        # A bare placeholder among other entries is replaced by the pages themselves.
        if isinstance(value, list) and isinstance(entry, str):
            expanded += value
        else:
            expanded.append(value)
    return expanded, found
