"""The package's own YAML files, read as plain data.

Takes a package and a file's name, gives what the file holds. Plans are never read with this: they
come from strangers, and the reader types every scalar itself.
"""

from __future__ import annotations

from importlib import resources
from typing import Any, Final

import yaml

# The same reader in C where the library was built with it: some ten times as fast.
_LOADER: Final = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def read_data_file(package: str, name: str) -> Any:
    """Read a YAML file that is shipped with a package of ours.

    Args:
        package: Dotted name of the package that holds it.
        name: The file's name, or its path inside the package with `/`.
    """
    return parse_data(resources.files(package).joinpath(name).read_text(encoding="utf-8"))


def parse_data(text: str) -> Any:
    """Parse YAML of our own."""
    return yaml.load(text, Loader=_LOADER)  # noqa: S506 - either loader is a safe one
