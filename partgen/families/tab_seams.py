"""Seams of tabs in their slots, and of the foot between them on the plate that has the slots."""

from __future__ import annotations

from dataclasses import dataclass

from partgen.geometry.segment import Segment
from partgen.plates.edges import ON, edges_on_line
from partgen.plates.plate import Plate
from partgen.plates.seam import STOP, Seam
from partgen.shop import Shop

FILLET_FROM = 1.0  # mm; a tab that stands out less has no corner for a fillet


@dataclass(frozen=True)
class Slotted:
    """A plate with slots, and the tabs in them.

    Attributes:
        name: as the welds' list calls it.
        thickness: of it [mm].
        proud: how far tabs stand out of it [mm].
        relief: radius of the relief beside a tab [mm].
        beyond: from where tabs are welded, in words.
    """

    name: str
    thickness: float
    proud: float
    relief: float
    beyond: str = "from outside"

    def tab_seam(self, edge: str, tip: Segment, plate: Plate, shop: Shop) -> Seam:
        """Return the weld of a tab: over it where it is flush, else a fillet on each face.

        Args:
            edge: which tab, in words.
            tip: its end, in the drawing of its plate.
            plate: with the tab.
            shop: the job; a fillet is as large as usual, but no larger than the tab is proud.
        """
        is_flush = self.proud < FILLET_FROM
        usual = shop.usual_leg(min(plate.thickness, self.thickness))
        return Seam(
            edge=edge,
            mate=self.name,
            path=(tip,),
            kind="flush" if is_flush else "fillet",
            sides=1 if is_flush else 2,
            leg=None if is_flush else min(usual, self.proud),
            beside=self.thickness,
            stops=(0.0, 0.0),
            note=f"{self.beyond}, the slot filled over the tab" if is_flush else self.beyond,
        )

    def foot_seams(self, plate: Plate, shop: Shop) -> list[Seam]:
        """Return the seams of a foot at y = 0: the edge beside and between its tabs, and each tab.

        Welds stop short of the foot's ends, and of a tab by its relief.

        Args:
            plate: with the foot, as drawn for the left.
            shop: the job.
        """
        out = -(self.thickness + self.proud)
        sides = plate.outline.segments
        tips = [s for s in sides if abs(s.y0 - out) <= ON and abs(s.y1 - out) <= ON]
        relief = 2 * self.relief

        def stop(x: float) -> float:
            near = any(abs(x - end) <= relief + ON for tip in tips for end in (tip.x0, tip.x1))
            return relief if near else STOP

        edges = [
            Seam(
                edge="base",
                mate=self.name,
                path=path,
                beside=self.thickness,
                stops=(stop(path[0].x0), stop(path[-1].x1)),
            )
            for path in edges_on_line(plate.outline, 1, 0.0)
        ]
        return edges + [self.tab_seam("tab", tip, plate, shop) for tip in tips]
