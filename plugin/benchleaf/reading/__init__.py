"""Reading: the text of a plan to typed records.

Takes text and the words of the joint kinds, gives a `Plan` and findings. Must not know geometry.
"""

from __future__ import annotations

from benchleaf.reading.codes import CODES
from benchleaf.reading.opening import open_plan
from benchleaf.reading.reader import plan_name, read_plan
from benchleaf.reading.table import schema

__all__ = ["CODES", "open_plan", "plan_name", "read_plan", "schema"]
