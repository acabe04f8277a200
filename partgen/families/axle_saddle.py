r"""Axle saddle: a pair of ears (or one) that sit on a round tube, square to it or skewed.

                   ,-----.
                 /  tube   \
         _      |     +     |      _        tube about (0, 0); the edge is its circle, or with
        |  \     \         /     /  |       ``skew`` an ellipse, wider along x; tangent arcs
        |    ` . _ `-----' _ . '    |  lip
         \                         /
            \                   /
               \      o      /        pivot: the joint's bolt
                 `  .___.  '

The wrap lies under the tube where the pivot is below it, over it where the pivot is above. With
skew the plates are turned about the vertical, positive the front outward, and the bolt stays square
to them: seen so, the tube lies a little further ahead in the outer plate than in the inner one.
Lengths in mm; x forward, y up; (0, 0) is the tube's centre in the middle between the plates.
"""

from __future__ import annotations

from dataclasses import replace
from math import atan2, cos, degrees, hypot, radians, sin, tan
from typing import ClassVar, Literal, Self

from pydantic import Field, model_validator

from partgen.errors import GeometryError
from partgen.families.eared import EaredPart, Eye, need_wall, tube_under
from partgen.families.openings import RE_ENTRANT
from partgen.families.part import CORNER
from partgen.fields import Angle, At, Margin, Size
from partgen.fit.mount import Mount
from partgen.geometry.belt import Pin, belt, turns_inward
from partgen.geometry.ellipse import ellipse_arcs, spliced
from partgen.geometry.outline import Outline
from partgen.geometry.saddle import axes, edge_gap, far_from, gap_note
from partgen.geometry.segment import Point
from partgen.plates.edges import ON, edges_where
from partgen.plates.plate import Plate
from partgen.plates.seam import Seam
from partgen.plates.solid import Solid
from partgen.shop import Shop

FIT_GAP = 25.4 / 64  # mm between tube and edge, 0 to 1/32 in; common practice, no source
LIP = 15.0  # mm; common practice, no source


class AxleSaddle(EaredPart):
    """``family = "axle-saddle"``.

    Attributes:
        tube: outside diameter of the axle tube [mm].
        wall: thickness of its wall, for the leg of the weld; none where it is not known [mm].
        pivot: the bolt's centre, seen from the tube's [mm].
        fit_gap: between tube and edge, all round [mm].
        wrap: how much of the tube the edge goes round [degrees].
        seat: direction from tube to the wrap's middle; default straight down or up [degrees].
        skew: angle of the plates from square to the tube, in plan, front outward [degrees].
        lip: metal beyond each end of the wrap, away from the tube [mm].
        corner: radius of the lips' outer corners [mm].
        blend: radius of those corners where an ear wider than the wrap makes them turn inward [mm].
        ears: 2 for a pair, 1 for a single plate.
        tolerance: of the arcs that stand for an ellipse [mm].
    """

    SITS_ON: ClassVar[str] = "tube"

    family: Literal["axle-saddle"]
    tube: Size
    wall: Size | None = None
    pivot: At
    fit_gap: Margin = Field(default=FIT_GAP, le=5)
    wrap: Angle = Field(default=140.0, ge=20, le=180)
    seat: Angle | None = None
    skew: Angle = Field(default=0.0, ge=-45, le=45)
    lip: Size = LIP
    corner: Margin = CORNER
    blend: Margin = RE_ENTRANT
    ears: Literal[1, 2] = 2
    tolerance: Size = 0.05

    @model_validator(mode="after")
    def _wall_leaves_a_tube(self) -> Self:
        need_wall(self.wall, self.tube)
        return self

    def as_mount(self, shop: Shop) -> Mount | None:
        """Return gap and bolt of the pair; nothing for a single plate.

        Raises:
            GeometryError: no such joint.
        """
        if self.ears == 1:
            return None
        found = self.pair(shop, far_from(self.pivot, self.tube), self.pivot)
        return found and replace(found, skew=self.skew)

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the inner and the outer plate, or the one.

        Raises:
            GeometryError: tube, wrap and pivot do not go together.
        """
        eye = self.eye(shop)
        names = self._names()
        note = gap_note(self.fit_gap + edge_gap(self.plate.thickness, self.skew))
        made = [
            self.piece(name, self.outline(eye, ahead), eye, [self.pivot])
            for name, ahead in zip(names, self._ahead(shop), strict=True)
        ]
        return [plate.with_note(note) for plate in made]

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return the edge on the tube, a fillet on each face.

        The drawn edge is the tube's own curve made larger by the fit gap: an ellipse of the same
        shape. The weld runs on the tube, so its length is the edge's over that factor.
        """
        across, up = axes(self.tube, self.fit_gap, self.skew)

        ahead = dict(zip(self._names(), self._ahead(shop), strict=True))[plate.name]

        def on_tube(p: Point) -> bool:
            reach = hypot((p[0] - ahead) / across, p[1] / up)
            return abs(reach - 1) * up <= self.tolerance + ON

        return [
            Seam(
                edge="saddle",
                mate=f"tube of {self.tube:g} mm",
                path=path,
                beside=self.wall,
                hollow=f"the tube of {self.tube:g} mm",
                share=self.tube / 2 / up,
                gap=self.fit_gap + edge_gap(self.plate.thickness, self.skew),
            )
            for path in edges_where(plate.outline, on_tube)
        ]

    def solids(self, shop: Shop) -> list[Solid]:
        """Return the plates on their tube, in the vehicle's axes.

        Raises:
            GeometryError: a pair without a joint.
        """
        if self.ears == 2 and self.joint is None:
            return []
        ears = self.ears_in_space(shop, self.finished(shop), self.skew)
        return [tube_under(ears, self.tube, 0.0), *ears]

    def _names(self) -> tuple[str, ...]:
        return ("inner", "outer") if self.ears == 2 else ("saddle",)

    def _ahead(self, shop: Shop) -> list[float]:
        """Return how far ahead of (0, 0) the tube's centre lies in each plate [mm].

        The bolt is square to the plates, so along it they cross the tube at different places.
        """
        if not self.skew:
            return [0.0] * self.ears
        return [out * tan(radians(self.skew)) for out in self.across(shop, self.ears)]

    def outline(self, eye: Eye, ahead: float = 0.0) -> Outline:
        """Return the outside edge: the edge on the tube, the lips, the ear.

        Args:
            eye: the ear's.
            ahead: of (0, 0), where the tube's centre lies in this plate [mm].

        Raises:
            GeometryError: the ear reaches into the tube, or the belt cannot be drawn.
        """
        pivot = self.pivot[0] - ahead, self.pivot[1]
        return self._about_tube(pivot, eye).moved(ahead, 0.0)

    def _about_tube(self, pivot: Point, eye: Eye) -> Outline:
        """Return the outside edge with the tube's centre at (0, 0)."""
        across, up = axes(self.tube, self.fit_gap, self.skew)
        away = hypot(pivot[0] * up / across, pivot[1])
        if away - eye.radius <= up:
            raise GeometryError(
                f"pivot ({self.pivot[0]:g}, {self.pivot[1]:g}) mm: its ear (radius "
                f"{eye.radius:g} mm) reaches the edge on the tube; move it further from the tube"
            )
        middle = (-90.0 if pivot[1] < 0 else 90.0) if self.seat is None else self.seat
        bow = ellipse_arcs(
            across, up, middle + self.wrap / 2, middle - self.wrap / 2, self.tolerance
        )
        first, last = (bow[0].x, bow[0].y), (bow[-1].x, bow[-1].y)
        ends, ear = [Pin(*first), Pin(*last)], Pin(*pivot, eye.radius)
        self._need_ear_between(ends, pivot)
        out_last, out_first = (
            self._out(p, middle + half)
            for p, half in ((last, -self.wrap / 2), (first, self.wrap / 2))
        )
        lips = [
            self._lip(ends[1], out_last, ear),
            self._lip(ear, out_first, ends[0]),
        ]
        return spliced(belt([*ends, lips[0], ear, lips[1]]), bow)

    def _out(self, end: Point, angle: float) -> Pin:
        """Return the outer corner of a lip: out from the tube by ``lip``."""
        out = radians(angle)
        return Pin(end[0] + self.lip * cos(out), end[1] + self.lip * sin(out))

    def _lip(self, before: Pin, here: Pin, after: Pin) -> Pin:
        """Return a lip's outer corner with its radius."""
        inward = turns_inward(before, here, after)
        return Pin(here.x, here.y, 0.0, self.blend if inward else self.corner)

    def _need_ear_between(self, pins: list[Pin], pivot: Point) -> None:
        """Refuse a pivot that does not lie in front of the wrap."""
        first, last = pins[0], pins[1]
        chord = (last.x - first.x, last.y - first.y)
        side = chord[0] * (pivot[1] - first.y) - chord[1] * (pivot[0] - first.x)
        if side <= 0:
            turned = degrees(atan2(pivot[1], pivot[0]))
            raise GeometryError(
                f"pivot lies at {turned:.0f} degrees from the tube, behind the wrap; turn 'seat' "
                "towards it"
            )
