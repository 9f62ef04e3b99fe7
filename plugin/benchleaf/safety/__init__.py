"""Safety: call-outs for the hazards that the work itself brings.

Takes the Sequence and the Joinery, gives CallOuts. The hazards are data rows in `rules/`.
"""

from __future__ import annotations

from benchleaf.safety.warning import warn

__all__ = ["warn"]
