"""The facts that many kinds of operation state alike: what is under the tool, what it is made of.

Takes marks of copies, gives facts by name. Must not know kinds.
"""

from __future__ import annotations

from collections.abc import Sequence

from benchleaf.reading.plan import StockKind
from benchleaf.sequencing.records import Fact
from benchleaf.sequencing.workroom import Workroom, own_size_mm


def state_copies(marks: Sequence[str], room: Workroom) -> dict[str, Fact | None]:
    """The facts of finished copies under a tool."""
    sizes = [own_size_mm(room.copy(mark), room.part_of(mark)) for mark in marks]
    part = room.part_of(marks[0])
    material = room.material_of(part.stock)
    masses = [mass for mark in marks if (mass := room.mass_kg(mark)) is not None]
    return {
        "stock.length_mm": min(size[0] for size in sizes),
        "stock.longest_mm": max(size[0] for size in sizes),
        "stock.width_mm": min(size[1] for size in sizes),
        "stock.widest_mm": max(size[1] for size in sizes),
        "stock.thickness_mm": min(size[2] for size in sizes),
        "stock.round": part.stock.kind is StockKind.ROD,
        "material.name": part.stock.material,
        "material.all": name_materials(marks, room),
        "material.kind": material.kind if material else None,
        "material.group": material.group if material else None,
        "part.mass_kg": max(masses, default=None),
        "part.wide_mm": max(size[1] for size in sizes),
    }


def name_materials(marks: Sequence[str], room: Workroom) -> str:
    """All that some copies are made of, in the author's words, each once."""
    return "; ".join(dict.fromkeys(room.part_of(mark).stock.material for mark in marks))


def state_materials(marks: Sequence[str], room: Workroom) -> dict[str, Fact | None]:
    """The facts of the material with the worst dust among several copies."""
    stocks = {room.part_of(mark).stock.name: room.part_of(mark).stock for mark in marks}
    found = [(stock, room.material_of(stock)) for stock in stocks.values()]
    order = {"hardwood": 0, "panel": 1, "softwood": 2}
    known = [(stock, material) for stock, material in found if material is not None]
    names = name_materials(marks, room)
    if not known:
        return {"material.all": names}
    stock, material = min(known, key=lambda pair: order[pair[1].group])
    return {
        "material.name": stock.material,
        "material.all": names,
        "material.kind": material.kind,
        "material.group": material.group,
    }
