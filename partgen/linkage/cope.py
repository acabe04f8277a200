"""Cope: the end of a tube cut to sit on another tube, at an angle and an offset.

Branch radius r, main radius R, axes at theta, offset e along their common normal, phi round the
branch from the plane of the axes: the cut lies at
s = (sqrt(R^2 - (e + r sin phi)^2) - r cos phi cos theta) / sin theta along the branch from the
crossing of the axes (intersection of two cylinders, plane geometry). phi = 0 is on the side of the
obtuse angle where theta is less than 90 degrees; seen from there with the main tube above, phi runs
to the right and a positive offset puts the branch to the right. Paper wraps the outside, so
x = r phi there; a tube with a wall is cut square to its surface, so at each phi the edge that
touches first, inside or outside, sets the cut.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import copysign, cos, hypot, pi, radians, sin, sqrt

from partgen.errors import GeometryError

POINTS = 720  # round the tube
LEAST_ANGLE = 15.0  # degrees; flatter, and the paper gets too long to be of use


@dataclass(frozen=True)
class Cope:
    """One coped end.

    Attributes:
        tube: outside diameter of the branch [mm].
        onto: outside diameter of the main tube [mm].
        angle: between the axes [degrees].
        offset: of the branch's axis, to the right seen from phi = 0, main tube above [mm].
        wall: of the branch; 0 where only the outside counts [mm].
    """

    tube: float
    onto: float
    angle: float
    offset: float = 0.0
    wall: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a tube that misses the other one.

        Raises:
            GeometryError: each thing that is wrong.
        """
        if not self.tube > 0 or not self.onto > 0:
            raise GeometryError(
                f"tube = {self.tube:g} mm, onto = {self.onto:g} mm: both must be more than 0 mm"
            )
        problems = []
        if not LEAST_ANGLE <= self.angle <= 180 - LEAST_ANGLE:
            problems.append(
                f"angle = {self.angle:g} deg must be {LEAST_ANGLE:g} to {180 - LEAST_ANGLE:g} deg"
            )
        if not 0 <= self.wall < self.tube / 2:
            problems.append(
                f"wall = {self.wall:g} mm must be less than half the tube, {self.tube / 2:g} mm"
            )
        if abs(self.offset) + self.tube / 2 > self.onto / 2 + 1e-9:
            problems.append(
                f"a tube of {self.tube:g} mm at offset {self.offset:g} mm reaches past the side of "
                f"a tube of {self.onto:g} mm; cope the wider tube onto the narrower one, or lessen "
                "the offset"
            )
        if problems:
            raise GeometryError(problems)

    @property
    def wrap(self) -> float:
        """Length of the paper round the tube [mm]."""
        return pi * self.tube

    def cut(self, phi: float) -> float:
        """Return where the cut lies along the branch from the crossing of the axes [mm].

        Args:
            phi: round the branch from the plane of the axes [rad].

        Examples:
            >>> round(Cope(2.0, 3.0, 60).cut(0.0), 4), round(Cope(2.0, 3.0, 60).cut(pi), 4)
            (1.1547, 2.3094)
        """
        return max(self._at(radius, phi) for radius in self._touching(phi))

    def _touching(self, phi: float) -> list[float]:
        """Return the radii in the wall that may touch first [mm]."""
        outside, inside = self.tube / 2, self.tube / 2 - self.wall
        a, k = sin(phi), cos(phi) * cos(radians(self.angle))
        if abs(a) < 1e-12 or not self.wall:
            return [outside, inside]
        top = (-k * copysign(1.0, a) * self.onto / 2 / hypot(a, k) - self.offset) / a
        return [outside, inside, min(max(top, inside), outside)]

    def _at(self, radius: float, phi: float) -> float:
        theta = radians(self.angle)
        across = self.offset + radius * sin(phi)
        height = sqrt(max(0.0, (self.onto / 2) ** 2 - across * across))
        return (height - radius * cos(phi) * cos(theta)) / sin(theta)

    def curve(self) -> list[tuple[float, float]]:
        """Return the cut on the paper: x round the tube, y along it from the crossing [mm]."""
        turns = [2 * pi * k / POINTS for k in range(POINTS + 1)]
        return [(self.tube / 2 * phi, self.cut(phi)) for phi in turns]

    @property
    def depth(self) -> float:
        """From the shallowest to the deepest point of the cut [mm]."""
        heights = [y for _, y in self.curve()]
        return max(heights) - min(heights)

    @property
    def gap(self) -> float:
        """Widest gap left at the outside, where the inside edge touches first [mm]."""
        turns = [2 * pi * k / POINTS for k in range(POINTS)]
        return max(self.cut(phi) - self._at(self.tube / 2, phi) for phi in turns)
