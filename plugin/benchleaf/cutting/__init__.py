"""Cutting: blanks and stock to layouts, each held against a replay of its cuts.

Takes the Joinery, gives the CutPlan.
"""

from benchleaf.cutting.planning import lay_out_stock, plan_cuts

__all__ = ["lay_out_stock", "plan_cuts"]
