r"""Bridge: a boxing plate between the two ears of a mount, with tabs that fit their slots one way.

            ___            ______
       ____|   |__________|      |___    outer edge: tabs as long as the outer ear is thick
      |                              |
      |          bridge              |   as wide as the gap between the ears
      |____         ____       ______|
           |_______|    |_____|          inner edge

The slots are cut into the plates ``inner`` and ``outer`` of the mount: round ``at``, the bridge's
length along ``angle``, as the ears are drawn. Between ears that lean, ``at`` is where its middle is
seen from the side, as a pivot is; it stands square to them, below their bends. Beside each tab is a
rounded relief, so that the edge seats. The spacing of the tabs differs from side to side: turned,
it does not go in. Lengths in mm.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from pydantic import Field

from partgen.entries.stock import PlateStock
from partgen.errors import GeometryError
from partgen.families.between import Between, between
from partgen.families.openings import WindowEntry, windows_of
from partgen.families.part import MountedPart
from partgen.families.tab_seams import Slotted
from partgen.fields import Angle, At, Margin, Name, Size
from partgen.fit.mount import Mount
from partgen.geometry.belt import Pin, belt, rectangle
from partgen.geometry.outline import Outline, cos_sin
from partgen.geometry.tab_slot import INNER, OUTER, TabSlot, least_spread
from partgen.plates.edges import ON, edges_on_line
from partgen.plates.plate import Plate, Window
from partgen.plates.seam import Seam
from partgen.plates.solid import Frame, Solid
from partgen.shop import Shop

THICKER = 0.25  # mm a plate may measure over its nominal thickness; common practice, no source
CUT_TOLERANCE = 0.76  # mm of one cut edge, 0.030 in; common practice, no source
TAB_PER_THICKNESS = 3.0  # 2 to 4; common practice, no source
TAB_PER_EDGE = 1 / 6  # two tabs take no more than a third of an edge; common practice, no source
RELIEF = 1.5  # mm, radius beside a tab; common practice, no source
SLOT_RADIUS = 2.0  # mm; common practice, no source


class Bridge(MountedPart):
    """``family = "bridge"``.

    Attributes:
        mount: name of the mount between whose ears it goes.
        at: middle of the bridge, as the ears are drawn [mm].
        angle: of the bridge's length, as the ears are drawn [degrees].
        length: along the ears [mm].
        plate: thickness and material.
        measured: thickest place of that plate as measured; default nominal + 0.25 mm [mm].
        cut_tolerance: of one cut edge [mm].
        tab: length of a tab; default three thicknesses, at most a sixth of the length [mm].
        proud: how far tabs stand out of the ears, for a weld outside; 0 is flush [mm].
        relief: radius of the relief beside a tab [mm].
        slot_radius: of the slots' corners, which lie beyond the tab [mm].
        windows: openings in the bridge, seen from its middle.
    """

    family: Literal["bridge"]
    mount: Name
    at: At
    angle: Angle = 0.0
    length: Size
    plate: PlateStock
    measured: Size | None = None
    cut_tolerance: Size = Field(default=CUT_TOLERANCE, le=3)
    tab: Size | None = None
    proud: Margin = 0.0
    relief: Size = RELIEF
    slot_radius: Size = SLOT_RADIUS
    windows: tuple[WindowEntry, ...] = Field(default=(), max_length=200)

    def tabs(self, shop: Shop) -> tuple[TabSlot, TabSlot]:
        """Return the tabs of the inner and of the outer edge.

        Raises:
            GeometryError: no such mount, or too short for tabs that fit one way only.
        """
        thickness = self.plate.thickness
        longest = max(self.measured or thickness + THICKER, thickness)
        tab = self.tab or min(TAB_PER_THICKNESS * thickness, TAB_PER_EDGE * self.length)
        sides = [
            TabSlot(
                tuple(part * self.length for part in parts),
                tab,
                longest,
                self.cut_tolerance,
                self.slot_radius,
            )
            for parts in (INNER, OUTER)
        ]
        ear = shop.mount(self.mount).bolts[0]
        thickest = max(ear.near_ear, ear.far_ear)
        webs = shop.cutting.web(thickness), shop.cutting.web(thickest)
        self._need_room(sides[0], sides[1], *webs)
        return sides[0], sides[1]

    def _need_room(self, inner: TabSlot, outer: TabSlot, web: float, ear_web: float) -> None:
        """Refuse a length that leaves too little metal beside tabs and slots, or fits turned."""
        spread = least_spread(inner.middles, outer.middles)
        end = self.length / 2 - max(abs(u) for u in (*inner.middles, *outer.middles))
        between = min(side.middles[1] - side.middles[0] for side in (inner, outer))
        slot = inner.clear_length + 2 * inner.radius
        least = self.length * max(
            (2 * self.cut_tolerance + 1.0) / spread,
            (slot + ear_web) / between,
            (inner.tab + 4 * self.relief + web) / between,
            (inner.tab / 2 + 2 * self.relief + web) / end,
        )
        if self.length < least - 1e-9:
            raise GeometryError(
                f"length = {self.length:g} mm is too short for tabs of {inner.tab:g} mm that fit "
                f"one way only; with such tabs it takes {least:.1f} mm"
            )

    def cuts(self, shop: Shop) -> dict[str, tuple[Window, ...]]:
        """Return the slots by the plate they go into.

        Raises:
            GeometryError: no such mount, or too short.
        """
        slots = self._between(shop.mount(self.mount)).slots
        return {
            f"{self.mount}/{side}": tuple(
                Window(
                    f"{self.name}-{k}",
                    slot.turned(self.angle).moved(*at),
                    is_filled=True,
                )
                for k, slot in enumerate(tabs.slots(), 1)
            )
            for side, tabs, at in zip(("inner", "outer"), self.tabs(shop), slots, strict=True)
        }

    def _between(self, mount: Mount) -> Between:
        return between(mount, self.at, self.angle, self.length)

    def plates(self, shop: Shop) -> list[Plate]:
        """Return the bridge.

        Raises:
            GeometryError: no such mount, or too short or too narrow.
        """
        mount = shop.mount(self.mount)
        return [
            Plate(
                part=self.name,
                name="bridge",
                outline=self.outline(mount, shop),
                windows=windows_of(self.windows),
                thickness=self.plate.thickness,
                material=self.plate.material,
                count=self.count * mount.count,
            )
        ]

    def solids(self, shop: Shop) -> list[Solid]:
        """Return the bridge between the ears, in the middle of its slots."""
        mount, (c, s) = shop.mount(self.mount), cos_sin(self.angle)
        there, half = self._between(mount), self.plate.thickness / 2
        frame = Frame(there.middle, there.along, there.across)
        frame = replace(frame, origin=frame.at((0.0, 0.0), -half))
        plain = rectangle(self.length, there.width)
        (px, pz), (ax, az) = mount.pivot, self.at
        off = 1.0 if (ax - px) * -s + (az - pz) * c > 0 else -1.0  # away from the bolt
        (plate,), apart = self.finished(shop), frame.direction((0.0, 0.0, off))
        solid = Solid.of(plate, frame, plate.thickness, apart, self.name)
        return [replace(solid, seated=plain)]

    def seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return the edges between the tabs, on the ears, and each tab in its slot.

        Between tabs the bridge stands on the ear, a fillet on each face. A flush tab is welded
        over from outside; one that stands proud takes a fillet on each face there.
        """
        mount = shop.mount(self.mount)
        half, ear = self._between(mount).width / 2, mount.bolts[0]
        found = []
        for side, name, thick in ((-1, "inner", ear.far_ear), (1, "outer", ear.near_ear)):
            at, tip = side * half, side * (half + thick + self.proud)
            slotted = Slotted(f"{self.mount} {name}", thick, self.proud, self.relief)
            found += [
                Seam(
                    edge=f"{name} edge",
                    mate=slotted.name,
                    path=path,
                    beside=thick,
                    stops=(2 * self.relief, 2 * self.relief),
                )
                for path in edges_on_line(plate.outline, 1, at)
            ]
            found += [
                slotted.tab_seam(f"{name} tab", s, plate, shop)
                for s in plate.outline.segments
                if max(abs(s.y0 - tip), abs(s.y1 - tip)) <= ON
            ]
        return found

    def outline(self, mount: Mount, shop: Shop) -> Outline:
        """Return the outside edge: as wide as the gap, tabs as long as the ears are thick.

        Raises:
            GeometryError: too short or too narrow.
        """
        inner, outer = self.tabs(shop)
        half, end = self._between(mount).width / 2, self.length / 2
        if half < 3 * self.relief + 1.0:
            raise GeometryError(
                f"the gap between the ears is {2 * half:g} mm, too narrow for a bridge"
            )
        ear = mount.bolts[0]
        pins = [Pin(-end, -half)]
        for u in inner.middles:
            pins += self._tab(u, inner.tab, half, ear.far_ear + self.proud, -1)
        pins += [Pin(end, -half), Pin(end, half)]
        for u in reversed(outer.middles):
            pins += self._tab(u, outer.tab, half, ear.near_ear + self.proud, 1)
        return belt([*pins, Pin(-end, half)])

    def _tab(self, u: float, tab: float, half: float, out: float, side: int) -> list[Pin]:
        """Return the pins of a tab with its reliefs; ``side`` is -1 at the inner edge, 1 outer."""
        r, way = self.relief, -side
        first, last = u - way * tab / 2, u + way * tab / 2
        back, tip = side * (half - 2 * r), side * (half + out)
        return [
            Pin(first - way * 2 * r, side * half),
            Pin(first - way * 2 * r, back, 0.0, r),
            Pin(first, back, 0.0, r),
            Pin(first, tip),
            Pin(last, tip),
            Pin(last, back, 0.0, r),
            Pin(last + way * 2 * r, back, 0.0, r),
            Pin(last + way * 2 * r, side * half),
        ]
