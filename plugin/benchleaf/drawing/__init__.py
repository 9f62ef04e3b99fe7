"""Drawing: a worked plan to Scenes, and Scenes to SVG.

Takes a sound WorkedPlan, gives Scenes by name; `svg` alone writes them.
"""

from benchleaf.drawing.book import draw_plan

__all__ = ["draw_plan"]
