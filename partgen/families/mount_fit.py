"""The fit of a link mount: rail, spacers, ears that may lean, joint, and what welding takes."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from partgen.entries.joint import Joint
from partgen.families.leaning import width_between
from partgen.fit.bolting import BoltFit
from partgen.fit.fit import Fit, fit_options
from partgen.fit.mount import pull_in
from partgen.shop import Shop

if TYPE_CHECKING:
    from partgen.families.link_mount import LinkMount


def mount_fits(part: LinkMount, shop: Shop, arm: float) -> list[Fit]:
    """Return every way to fill a mount's gap, best first.

    Args:
        part: the mount.
        shop: its rails, joints and rack.
        arm: from the weld to the bolt [mm].

    Raises:
        GeometryError: no such rail or joint.
    """
    rail, joint = shop.rail(part.rail), shop.joint(part.joint)
    near, far = part.stock(part.outer).thickness, part.stock(part.inner).thickness
    spread = part.middle_radius(part.outer) - part.middle_radius(part.inner)
    return fit_options(
        rail.width,
        width_between(joint.width, near, far, part.ear_angle, spread),
        joint.side_clearance,
        shop.rack,
        coating=part.coating,
        pull_in=pull_in(arm, part.lean),
        shift=part.shift,
        most_plates=part.spacer_plates,
    )


def in_hand(joint: Joint, stack: BoltFit) -> BoltFit | None:
    """Return the bolt in hand in the same stack, if its length was typed."""
    if joint.bolt_length is None:
        return None
    return replace(stack, length=joint.bolt_length, shank=joint.shank)
