"""The solver of linear and whole-number programmes, set up so that it gives the same answer always.

Takes nothing. Loads HiGHS, so it is imported only where simple means leave a gap.
"""

from __future__ import annotations

import highspy


def new_solver() -> highspy.Highs:
    """A solver that is quiet, and gives the same answer every time."""
    solver = highspy.Highs()  # type: ignore[no-untyped-call]
    for name, choice in (("output_flag", False), ("threads", 1)):
        solver.setOptionValue(name, choice)
    return solver
