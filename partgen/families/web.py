"""A web between the two ears of a mount: where it hangs, and its true shape where the ears lean.

Between ears that lean the web's welded edges follow the plates: straight down, round the bend (the
radius of the face that looks into the gap), and along the leaning ear, as lines and arcs. The web
lies in a plane square to the bends, so this is its true shape.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import copysign, cos, hypot, radians, sin, tan

from partgen.errors import GeometryError
from partgen.fit.mount import Lean, Mount
from partgen.geometry.belt import Pin
from partgen.geometry.segment import Point
from partgen.plates.edges import ON
from partgen.plates.plate import Plate
from partgen.plates.solid import LEFT, RIGHT, Frame, Solid, Vector
from partgen.shop import Shop

BEHIND = 8.0  # mm from the joint's body, where no place is given
NEAR = 1e-6  # mm


def hung(
    name: str, plates: list[Plate], mount: Mount, place: Point | None, way: Point | None, shop: Shop
) -> list[Solid]:
    """Return a web placed between the ears of its mount; none where its place is not known.

    At ``place``, else hung from the rail behind the joint's body.

    Args:
        name: of the part.
        plates: of the part, at most one.
        mount: whose ears they are.
        place: of its (0, 0) in the ears' drawing; for the picture [mm].
        way: unit direction of its height there; square to the rail where it is not given.
        shop: knows the rail.
    """
    if place is None and (not mount.rail or mount.through):
        return []
    x, z = hangs_at(mount, place, shop)
    down = way or (mount.bend.down if mount.bend else _down(mount, x, shop))
    across, y = (RIGHT, mount.faces[1]) if mount.through else (LEFT, mount.faces[0])
    frame = Frame((x, y, z), across, (down[0], 0.0, down[1]))
    out = 3 * across[1] if mount.through else 0.0
    apart: Vector = (1.2 * down[0], out, 1.2 * down[1])
    return [Solid.of(plate, frame, plate.thickness, apart, name) for plate in plates]


def hangs_at(mount: Mount, place: Point | None, shop: Shop) -> Point:
    """Return where a web hangs, in side view: at its place, else from the rail behind the joint."""
    return mount.seen(place) if place else _behind(mount, shop)


def _down(mount: Mount, x: float, shop: Shop) -> Point:
    """Return the unit direction into the ears, square to the rail's lower edge at ``x``."""
    return shop.rail(mount.rail).lower.square(x) if mount.rail else (0.0, -1.0)


def _behind(mount: Mount, shop: Shop) -> Point:
    """Return the place on the rail's lower edge where a web clears the joint's body [mm]."""
    lower, (px, pz) = shop.rail(mount.rail).lower, mount.pivot
    x, room = px, mount.body_diameter / 2 + BEHIND
    for _ in range(20):  # the plane through (x, edge) square to the edge, ``room`` behind the pivot
        dx, dz = _down(mount, x, shop)
        clear = -((px - x) * dz - (pz - lower.height(x)) * dx)
        x -= room - clear
        if abs(room - clear) < NEAR:
            break
    return x, lower.height(x)


@dataclass(frozen=True)
class Face:
    """The face of a leaning ear that looks into the gap, in the web's plane.

    Attributes:
        at: across the gap, above the bend [mm].
        radius: of the face in the bend [mm].
        begins: depth where the bend begins [mm].
        lean: of the ear, towards larger ``at`` positive [degrees].
        hollow: whether the web lies on the hollow side of the bend.
    """

    at: float
    radius: float
    begins: float
    lean: float
    hollow: bool

    @property
    def ends(self) -> float:
        """Depth where the bend ends [mm]."""
        return self.begins + self.radius * sin(radians(abs(self.lean)))

    def across(self, depth: float) -> float:
        """Return where the face is at a depth off the bend [mm].

        Raises:
            GeometryError: the depth lies in the bend.
        """
        if depth <= self.begins + NEAR:
            return self.at
        if depth < self.ends - NEAR:
            raise GeometryError(
                f"an edge of the web ends in the bend of the ears ({self.begins:.1f} to "
                f"{self.ends:.1f} mm below the rail); set another height or far_height"
            )
        turn = radians(abs(self.lean))
        shift = self.radius * (1 - cos(turn)) + (depth - self.ends) * tan(turn)
        return self.at + copysign(shift, self.lean)

    def carries(self, point: Point) -> bool:
        """Tell whether a point of the web's drawing lies on the face."""
        x, depth = point
        if depth <= self.begins:
            return abs(x - self.at) <= ON
        if depth < self.ends:
            away = hypot(x - self.at - copysign(self.radius, self.lean), depth - self.begins)
            return abs(away - self.radius) <= ON
        return abs(x - self.across(depth)) * cos(radians(self.lean)) <= ON

    def upper(self, snipe: float) -> list[Pin]:
        """Return the pins from the snipe's end down to where the face is straight.

        A snipe that would end in the bend goes on to the bend's end.
        """
        if snipe >= self.begins - NEAR:
            depth = max(snipe, self.ends)
            return [Pin(self.across(depth), depth)]
        round_ = self.radius if self.hollow else -self.radius
        centre = self.at + copysign(self.radius, self.lean)
        return [Pin(self.at, snipe), Pin(centre, self.begins, round_)]


def faces(bend: Lean, width: float, edge: Point) -> tuple[Face, Face]:
    """Return the faces of the inner and the outer ear.

    Args:
        bend: how the plates bend.
        width: between them above the bend [mm].
        edge: where the web hangs, from where depths count, in side view [mm].
    """
    begins = (bend.start[0] - edge[0]) * bend.down[0] + (bend.start[1] - edge[1]) * bend.down[1]
    inner = Face(0.0, bend.inner, begins, bend.angle, bend.angle > 0)
    return inner, replace(inner, at=width, radius=bend.outer, hollow=bend.angle < 0)
