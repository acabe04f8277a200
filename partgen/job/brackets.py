"""What the links of a job move among: parts that hold them, rails, plates, what stands in gaps."""

from __future__ import annotations

from collections.abc import Sequence

from partgen.families.axle_saddle import AxleSaddle
from partgen.families.part import MountedPart
from partgen.geometry.segment import Segment
from partgen.job.job import Job
from partgen.linkage.bracket import Bracket
from partgen.linkage.mount_swing import Surroundings
from partgen.linkage.obstacle import Obstacle
from partgen.plates.plate import Plate
from partgen.shop import Shop


def surroundings(job: Job, shop: Shop, plates: Sequence[Plate]) -> Surroundings:
    """Return what the links of a job move among.

    A part in a mount's gap is in the way where it has a place; else it is asked for by name.
    """
    beside: dict[str, list[str]] = {}
    placed: dict[str, list[Obstacle]] = {}
    for part in job.parts:
        if not isinstance(part, MountedPart) or not part.mount or part.family == "spacer":
            continue
        solids = part.solids(shop) if part.place else []
        if not solids:
            beside.setdefault(part.mount, []).append(part.name)
        for solid in solids:
            (x0, _, z0), (x1, _, z1) = solid.box
            edge = Segment((x0 + x1) / 2, z1, (x0 + x1) / 2, z0)
            placed.setdefault(part.mount, []).append(Obstacle(part.name, (edge,), (x1 - x0) / 2))
    found = brackets(job, shop, plates)
    return Surroundings(found, shop.rails, shop.joints, plates, beside, placed)


def brackets(job: Job, shop: Shop, plates: Sequence[Plate]) -> dict[str, Bracket]:
    """Return the parts of a job that have bolt holes a link may sit in."""
    found = {}
    for part in job.parts:
        mine = _left([p for p in plates if p.part == part.name])
        mount, joint = shop.mounts.get(part.name), getattr(part, "joint", None)
        tube, skew = (part.tube, part.skew) if isinstance(part, AxleSaddle) else (None, 0.0)
        if mount or any(p.holes for p in mine):
            held = mount.joint if mount else None
            found[part.name] = Bracket(
                part.name, mine, mount, held or shop.joints.get(joint or ""), tube, skew
            )
    return found


def _left(plates: Sequence[Plate]) -> tuple[Plate, ...]:
    """Return a part's plates as drawn for the left, one of each."""
    found: dict[str, Plate] = {}
    for plate in plates:
        found.setdefault(plate.name, plate.mirrored() if plate.hand == "right" else plate)
    return tuple(found.values())
