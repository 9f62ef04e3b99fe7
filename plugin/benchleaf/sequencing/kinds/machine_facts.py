"""What the safety rules are told of a machine, whatever it is cutting just then."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from benchleaf.sequencing.records import Fact

DRILLED: Final[Mapping[str, Fact]] = MappingProxyType(
    {"op.makes_chips": True, "op.rotating_cutter": True}
)
"""A bit turned by a drill or a drill press."""
MACHINED: Final[Mapping[str, Fact]] = MappingProxyType(
    {**DRILLED, "op.loud": True, "op.makes_dust": True}
)
"""A saw blade or a cutter turned by a machine at speed."""
