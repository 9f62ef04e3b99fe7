"""Addresses are those that MkDocs gives: compared with MkDocs' own arithmetic."""

from __future__ import annotations

import pytest
from mkdocs.structure.files import File

from benchleaf.site.addresses import GALLERY, Links, built_uri, drawing_uri, page_uri

URIS = (
    GALLERY,
    page_uri("boot-bench", "index"),
    page_uri("boot-bench", "materials"),
    page_uri("boot-bench", "parts/index"),
    page_uri("boot-bench", "parts/long-rail"),
    page_uri("boot-bench", "steps/glue-up"),
    drawing_uri("boot-bench", "part-long-rail"),
)
KEYS = ("index", "materials", "parts/index", "parts/long-rail", "steps/glue-up")


def mkdocs_file(src_uri: str, *, directory_urls: bool) -> File:
    return File(src_uri, src_dir=None, dest_dir="site", use_directory_urls=directory_urls)


@pytest.mark.parametrize("directory_urls", [True, False])
@pytest.mark.parametrize("src_uri", URIS)
def test_built_address_is_that_of_mkdocs(src_uri: str, directory_urls: bool) -> None:
    expected = mkdocs_file(src_uri, directory_urls=directory_urls).url
    assert built_uri(src_uri, directory_urls=directory_urls) == expected


@pytest.mark.parametrize("directory_urls", [True, False])
@pytest.mark.parametrize("here", URIS[:-1])
def test_links_are_those_of_mkdocs(here: str, directory_urls: bool) -> None:
    links = Links(plan="boot-bench", here=here, directory_urls=directory_urls)
    from_file = mkdocs_file(here, directory_urls=directory_urls)
    for key in KEYS:
        target = mkdocs_file(page_uri("boot-bench", key), directory_urls=directory_urls)
        assert links.page(key) == target.url_relative_to(from_file)
    drawing = mkdocs_file(URIS[-1], directory_urls=directory_urls)
    assert links.drawing("part-long-rail") == drawing.url_relative_to(from_file)
    gallery = mkdocs_file(GALLERY, directory_urls=directory_urls)
    assert links.gallery() == gallery.url_relative_to(from_file)
