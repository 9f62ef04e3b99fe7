"""What is sanded before assembly: the faces that another part will be in the way of."""

from __future__ import annotations

from tests.sequencing.worked import TABLE, of_kind, room_of, work_demo, work_text

from benchleaf.sequencing.reaching import inner_faces


def test_the_inside_of_a_case_is_out_of_reach_and_its_outside_is_not() -> None:
    faces = inner_faces(room_of(work_demo("wall-bookcase")))
    # Seen on paper: sides look at the shelves with their right faces, as the left side stands.
    assert faces["side"] == {"right"}
    assert faces["top"] == {"bottom"}
    assert faces["bottom"] == {"top"}
    assert faces["divider"] == {"left", "right"}
    assert faces["small shelf"] == faces["tall shelf"] == {"bottom", "top"}


def test_faces_that_other_parts_cover_are_not_sanded() -> None:
    faces = inner_faces(room_of(work_demo("hall-bench")))
    # Cleats are glued to the rails with their front faces, all over.
    assert "front" not in faces["seat cleat"]
    assert "top" not in faces["seat cleat"]
    # Slats stand 3/4 apart: nobody sands between them.
    assert {"left", "right"} <= faces["slat"]


def test_the_step_names_faces_and_what_to_keep_off() -> None:
    (bench,) = of_kind(work_demo("hall-bench"), "sand-inside")
    assert "Sand the bottom face of the seat." in bench.actions
    assert "Go lightly over plywood: its face veneer is thin." in bench.actions
    assert "Keep off every place that takes glue." in bench.actions
    (table,) = of_kind(work_text(TABLE), "sand-inside")
    # Its rails are tenoned into the legs.
    assert "Keep off tenons, shoulders and every place that takes glue." in table.actions
