"""What kinds that leave an outline standing have in common: all outside it is cut away.

Takes a part on the bench and an outline on a face, gives the cut. Knows no single kind.
"""

from __future__ import annotations

from benchleaf.frames import FACES
from benchleaf.outlines import Outline
from benchleaf.shaping.bench import Workpiece
from benchleaf.shaping.drawing_out import through
from benchleaf.shaping.hole_work import need_inside
from benchleaf.shaping.records import Shaped, ShapedCut, Told


def keep_inside(work: Workpiece, outline: Outline, told: Told) -> Shaped:
    """Cut away all outside an outline on the face named, through the part.

    Args:
        work: The part.
        outline: What is left.
        told: Its sizes and where it is set out.
    """
    need_inside(work, outline, may_touch=True)
    cut = ShapedCut(
        kind=work.chosen.kind,
        index=work.chosen.index,
        role=told.role,
        form=through(work.face, outline, work.body),
        keeps=True,
        face=work.face,
        sizes=told.sizes,
        places=told.places,
        template=outline,
        points=told.points,
    )
    return Shaped(cuts=(cut,), rims=((FACES[work.face][0], outline),))
