"""Whether shaping is its own mirror image, so that no left and right hand have to be told apart.

Takes shaped cuts in a part's own axes; answers yes or no.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from benchleaf.forms import Bore, Form, form_cut, mirror_form
from benchleaf.frames import Axis, Box, Vector, add, scale
from benchleaf.shaping.records import ShapedCut, Sweep

_Key = tuple[object, ...]


def is_shaped_alike(cuts: Iterable[ShapedCut], axis: Axis, blank: Box) -> bool:
    """Tell whether shaping is the same across the middle plane of an axis.

    Args:
        cuts: The shaping.
        axis: The axis that is turned over.
        blank: The part with what joints add: its middle is the mirror.
    """
    listed = tuple(cuts)
    total = blank.low[axis] + blank.high[axis]
    return frozenset(_key(cut) for cut in listed) == frozenset(
        _mirrored_key(cut, axis, float(total), total=blank) for cut in listed
    )


def _key(cut: ShapedCut) -> _Key:
    if isinstance(cut.form, Sweep):
        return (cut.role, frozenset(_points(cut.form)))
    return (cut.role, *_form_key(cut.form))


def _form_key(form: Form) -> _Key:
    """Equal for forms that take the same wood; a hole right through has no beginning."""
    if not isinstance(form, Bore) or form.diameter_mm != form.end_diameter_mm:
        return form_cut(form)
    end = add(form.mouth, scale(form.direction, form.depth_mm))
    return (frozenset((form.mouth, end)), form.diameter_mm)


def _mirrored_key(cut: ShapedCut, axis: Axis, total_mm: float, *, total: Box) -> _Key:
    if isinstance(cut.form, Sweep):
        turned = (
            tuple(_rounded(total_mm - part) if i == axis else part for i, part in enumerate(point))
            for point in _points(cut.form)
        )
        return (cut.role, frozenset(turned))
    return (cut.role, *_form_key(mirror_form(cut.form, axis, total.low[axis] + total.high[axis])))


def _points(sweep: Sweep) -> Iterator[Vector]:
    for station in sweep.stations:
        for u, v in sweep.profile:
            x, y, z = (
                _rounded(float(p) + float(u) * float(a) + float(v) * float(b))
                for p, a, b in zip(station.point, station.across, station.down, strict=True)
            )
            yield (x, y, z)


def _rounded(value: float) -> float:
    # chosen: a mirror image reaches its own by another sum; a micron tells nothing apart.
    return round(value, 3) + 0.0
