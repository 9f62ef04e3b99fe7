"""Which joints of a plan are alike, and so share a section of the page of joints.

Takes a `SoundPlan`; gives groups of joints, and the address of each joint's section.
"""

from __future__ import annotations

from benchleaf.joinery.records import Feature, JointFit
from benchleaf.piece.records import ChosenJoint
from benchleaf.site.views.sound import SoundPlan, is_joined

JointGroup = tuple[ChosenJoint, ...]
"""Joints of the plan that share a section, the first of which names it."""


def group_joints(sound: SoundPlan) -> tuple[JointGroup, ...]:
    """The joints that hold, those alike together, in the order of the first of each."""
    groups: dict[object, list[ChosenJoint]] = {}
    for joint in filter(is_joined, sound.piece.joints):
        groups.setdefault(_likeness(sound, joint), []).append(joint)
    return tuple(map(tuple, groups.values()))


def joint_addresses(sound: SoundPlan) -> dict[int, str]:
    """Index of each joint that holds anything to the address of its section."""
    groups = group_joints(sound)
    return {joint.index: f"joints#{anchor_of(group)}" for group in groups for joint in group}


def anchor_of(group: JointGroup) -> str:
    """Id of a group's heading, and the name of its figure."""
    return f"joint-{group[0].index + 1}"


def _likeness(sound: SoundPlan, joint: ChosenJoint) -> object:
    """What joints share whose figure, sizes, hardware and notes are the same."""
    return (joint.kind, joint.note, frozenset(map(_shape_of, sound.fits_of(joint.index))))


def _shape_of(fit: JointFit) -> object:
    """A joint at one contact, wherever that is."""
    contact = fit.contact
    return (
        (contact.u_mm, contact.v_mm, contact.n_mm),
        *((box.low[2], box.high[2]) for box in (contact.first_box, contact.second_box)),
        *(tuple(map(_cut_of, side)) for side in (fit.first_features, fit.second_features)),
        (fit.is_glued, fit.sizes, fit.hardware),
    )


def _cut_of(feature: Feature) -> object:
    return (feature.role, feature.shape, feature.adds)
