r"""Dummy spacer: discs that, stacked, stand in for a joint while its ears are tacked and welded.

      .---.        |||||||||
     |  o  |       |||||||||     as many of each thickness in the rack as fill the gap best
      `---'        |||||||||

The length is the mount's: joint and side clearance, shims beside it. What the stack lacks is said.
Lengths in mm.
"""

from __future__ import annotations

from dataclasses import replace
from math import fsum
from typing import ClassVar, Literal

from pydantic import Field

from partgen.entries.joint import HoleFit
from partgen.entries.stock import PlateStock, Stock
from partgen.errors import GeometryError
from partgen.families.on_bolt import disc, gap_ends
from partgen.families.part import MountedPart
from partgen.fields import Name, Size
from partgen.geometry.outline import Outline
from partgen.plates.plate import Plate, Window
from partgen.plates.solid import Solid
from partgen.shop import Shop

STEP = 0.01  # mm, how finely thicknesses are added up
MOST = 200.0  # mm; no joint is wider
ENOUGH = 0.1  # mm that a stack may lack unsaid; common practice, no source


class DummySpacer(MountedPart):
    """``family = "dummy-spacer"``.

    Attributes:
        mount: name of the mount it is for.
        plates_from: plates to cut from; default every plate in the rack.
        diameter: of the discs; default the joint's body [mm].
        hole: close, normal or loose; or its diameter; default as in the dummy of the fit [mm].
    """

    NO_SEAM: ClassVar[str] = "taken out after welding: no weld"
    family: Literal["dummy-spacer"]
    mount: Name
    plates_from: tuple[PlateStock, ...] = Field(default=(), max_length=20)
    diameter: Size | None = None
    hole: HoleFit | None = None

    def plates(self, shop: Shop) -> list[Plate]:
        """Return one plate for each thickness in the stack.

        Raises:
            GeometryError: no such mount, nothing in the rack, or the disc is too small.
        """
        mount = shop.mount(self.mount)
        length, rack = mount.dummy.length, list(self.plates_from) or shop.rack
        if length > MOST:
            raise GeometryError(f"the gap is {length:g} mm, more than {MOST:g} mm")
        pieces = stack(length, [stock.thickness for stock in rack])
        if not pieces:
            raise GeometryError(
                f"no plate in the rack is thinner than the gap, {length:g} mm; add a sheet"
            )
        short = length - fsum(t * n for t, n in pieces.items())
        made = [
            self._disc(next(s for s in rack if s.thickness == t), n * mount.count, shop)
            for t, n in pieces.items()
        ]
        if short > ENOUGH:
            note = f"the stack is {short:.2f} mm short of the gap, {length:.2f} mm: add shim"
            made[0] = made[0].with_note(note)
        return made

    def solids(self, shop: Shop) -> list[Solid]:
        """Return the stack on the bolt, in the middle of the gap; discs of one plate as one."""
        mount = shop.mount(self.mount)
        each = mount.count * self.count
        plates = [(plate, plate.thickness * plate.count / each) for plate in self.finished(shop)]
        begins = (fsum(gap_ends(mount)) - fsum(deep for _, deep in plates)) / 2
        placed: list[Solid] = []
        for plate, deep in plates:
            solid = disc(plate, mount, begins, deep, self.name)
            placed.append(replace(solid, is_named=not placed))
            begins += deep
        return placed

    def _disc(self, stock: Stock, count: int, shop: Shop) -> Plate:
        mount = shop.mount(self.mount)
        hole = mount.dummy.bore if self.hole is None else mount.bolt.hole(self.hole)
        return Plate(
            part=self.name,
            name=f"{stock.thickness:g}mm".replace(".", "-"),
            outline=Outline.circle(0.0, 0.0, self.diameter or mount.body_diameter),
            windows=(Window("bolt", Outline.circle(0.0, 0.0, hole)),),
            thickness=stock.thickness,
            material=stock.material,
            count=self.count * count,
        )


def stack(gap: float, thicknesses: list[float]) -> dict[float, int]:
    """Return how many of each thickness fill a gap best from below, by the fewest pieces.

    Examples:
        >>> stack(57.8, [6.0, 4.0, 3.0])
        {6.0: 9, 3.0: 1}
        >>> stack(2.0, [6.0])
        {}
    """
    room = round(gap / STEP)
    steps = {round(t / STEP): t for t in thicknesses}
    fewest: list[tuple[int, int] | None] = [(0, 0)] + [None] * room
    for total in range(1, room + 1):
        ways = [
            (before[0] + 1, step)
            for step in steps
            if step <= total and (before := fewest[total - step]) is not None
        ]
        fewest[total] = min(ways) if ways else None
    total = next(t for t in range(room, -1, -1) if fewest[t] is not None)
    counts: dict[float, int] = {}
    while total:
        way = fewest[total]
        assert way is not None
        counts[steps[way[1]]] = counts.get(steps[way[1]], 0) + 1
        total -= way[1]
    return dict(sorted(counts.items(), reverse=True))
