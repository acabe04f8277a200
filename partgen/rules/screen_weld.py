"""Screening of the fillet along a plate's edge on its rail, and of the ear that stands off it."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from partgen.entries.load import Load, StrengthEntry
from partgen.fit.mount import Mount
from partgen.geometry.segment import Point
from partgen.rules.ear import Ear
from partgen.rules.on_rail import OnRail
from partgen.rules.screened import Screened, no_material, unjudged
from partgen.strength.capacity import Capacity
from partgen.strength.ear_bending import ear_bending
from partgen.strength.fillet_weld import OMEGA, PHI, THROAT
from partgen.strength.weld_line import WeldLine

WELD = "weld of the plate to the rail"
STATIONS = 24  # sections of an ear looked at between bolt and root


def of_weld(
    ear: Ear, mount: Mount, piece: OnRail | None, load: Load | None, asked: StrengthEntry
) -> Iterator[Screened]:
    """Yield the weld of a plate: against the load, or in the plane and along the bolt."""
    key, mode = ear.plate.key, WELD
    if piece is None or not piece.welded:
        yield unjudged(mount, key, mode, "no edge of the plate lies on a rail of the job")
        return
    if asked.weld_metal is None:
        yield unjudged(mount, key, mode, "weld_metal is not given; add it under [strength]")
        return
    line = WeldLine(piece.welded)
    throat = 0.60 * asked.weld_metal * THROAT * piece.leg
    along = _flow_along_bolt(line, mount.pivot)
    if load is not None:
        x, y, z = load.unit
        flow = hypot(line.in_plane((x / 2, z / 2), mount.pivot), along * abs(y))
        yield _weld(mount, key, mode, throat / flow, piece, line, side=False)
        return
    ways = [(1.0, 0.0), (0.0, 1.0), (0.7071, 0.7071), (0.7071, -0.7071)]
    flow = max(line.in_plane((u / 2, v / 2), mount.pivot) for u, v in ways)
    yield _weld(mount, key, mode, throat / flow, piece, line, side=False)
    yield _weld(mount, key, f"{mode}, along the bolt", throat / along, piece, line, side=True)


def _flow_along_bolt(line: WeldLine, pivot: Point) -> float:
    """Return the greatest flow in one plate's weld from 1 N along the bolt [1/mm]."""
    cx, cy = line.centroid
    return line.out_of_plane(1.0, (pivot[1] - cy, cx - pivot[0]))


def _weld(
    mount: Mount, key: str, mode: str, force: float, piece: OnRail, line: WeldLine, *, side: bool
) -> Screened:
    capacity = Capacity(
        mode=mode,
        nominal=force,
        phi=PHI,
        omega=OMEGA,
        clause="AISC 360-16 J2.4, elastic line-weld method",
        assumptions=f"leg {piece.leg:.2f} mm, {line.length:.0f} mm along the plate's edge on the "
        f"rail; force at the joint; {_wall(piece)} not judged",
    )
    return Screened(mount.name, key, capacity, 1.0, side, mode)


def _wall(piece: OnRail) -> str:
    known = "not known" if piece.rail.wall is None else f"{piece.rail.wall:g} mm"
    return f"base metal and the rail's wall ({known})"


def bent(ear: Ear, mount: Mount, piece: OnRail | None) -> Iterator[Screened]:
    """Yield the ear bent out of its plane, at its weakest section down to the weld."""
    mode, key = "ear bent out of its plane", ear.plate.key
    strength = ear.plate.material.strength(ear.plate.thickness)
    if strength is None:
        yield unjudged(mount, key, mode, no_material(ear.plate), side=True)
        return
    if piece is None or piece.height(mount.pivot) >= 0:
        yield unjudged(mount, key, mode, "the joint does not hang below a rail", side=True)
        return
    up = piece.way(mount.pivot)
    arm = -piece.height(mount.pivot) + (piece.shelves[0] or 0.0)
    across = (-up[1], up[0])
    worst: Capacity | None = None
    for k in range(1, STATIONS + 1):
        away = arm * k / STATIONS
        if away < ear.hole.diameter / 2:
            continue
        point = (mount.pivot[0] + away * up[0], mount.pivot[1] + away * up[1])
        width = ear.width(point, across)
        if not 0 < width < float("inf"):
            continue
        found = ear_bending(width, ear.plate.thickness, away, strength[0])
        worst = found if worst is None or found.nominal < worst.nominal else worst
    if worst is None:
        yield unjudged(mount, key, mode, "the ear has no section between bolt and weld", side=True)
        return
    yield Screened(mount.name, key, worst, 1.0, True, mode)
