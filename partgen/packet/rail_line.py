"""What a mount's plate lies on: the rail's lower edge, which face shows, which way is ahead.

A mount's plates are drawn in their rail's side view, x forward; the right hand mirrored.
"""

from __future__ import annotations

from partgen.errors import GeometryError
from partgen.geometry.segment import Point
from partgen.job.build import Build
from partgen.plates.plate import Plate

FACE_OF_MOUNT = "face towards the middle of the vehicle"
FACE = "upper face as cut"


def rail_line(plate: Plate, build: Build) -> tuple[Point, ...]:
    """Return the rail's lower edge behind a mount's plate, in the plate's coordinates [mm].

    Empty for plates that are not on a rail's side.
    """
    rail = build.shop.rails.get(_rail_name(plate, build))
    if rail is None:
        return ()
    side = -1.0 if plate.hand == "right" else 1.0
    x0, _, x1, _ = plate.outline.box
    x0, x1 = sorted((side * x0, side * x1))
    try:
        path = rail.edge(0.0, x0, x1)
    except GeometryError:
        return ()
    return tuple((side * x, y) for x, y in path)


def face_up(plate: Plate, build: Build) -> str:
    """Return the words for the face a drawing shows."""
    return FACE_OF_MOUNT if _rail_name(plate, build) else FACE


def forward(plate: Plate, build: Build) -> str:
    """Return which way is forward in the drawing of a mount's plate: left, right, or nothing."""
    if not _rail_name(plate, build):
        return ""
    return "left" if plate.hand == "right" else "right"


def _rail_name(plate: Plate, build: Build) -> str:
    if plate.part not in {mount.name for mount in build.mounts}:
        return ""
    part = next((p for p in build.job.parts if p.name == plate.part), None)
    return str(getattr(part, "rail", ""))
