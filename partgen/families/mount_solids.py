"""A link mount's plates on their rail, in space."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from partgen.entries.rail import Rail
from partgen.families.eared import RUN_ON
from partgen.families.leaning import bend_marks
from partgen.fit.mount import Mount
from partgen.plates.fold import BentFrame, Fold
from partgen.plates.plate import Plate
from partgen.plates.solid import FORWARD, UP, Frame, Solid


def on_rail(
    plates: Sequence[Plate], rail: Rail, mount: Mount, folds: Mapping[str, list[Fold]]
) -> list[Solid]:
    """Return the rail and the two plates; y from the middle of the rail, left side.

    Args:
        plates: the inner and the outer one, as drawn.
        rail: they are on.
        mount: what they make.
        folds: the bends of each plate, by its name.
    """
    x0, _, x1, _ = plates[0].outline.box
    side = Frame((0.0, rail.width / 2, 0.0), FORWARD, UP)  # its normal points to the right
    pieces = [Solid("rail", (rail.side(x0 - RUN_ON, x1 + RUN_ON),), side, rail.width)]
    for plate, y, way in zip(plates, mount.faces, (-1, 1), strict=True):
        depth = -way * plate.thickness
        _, bent = bend_marks(plate.outline, folds[plate.name])
        frame = BentFrame((0.0, y, 0.0), FORWARD, UP, bent, depth / 2)
        pieces.append(Solid.of(plate, frame, depth, (0.0, 2.0 * way, 0.0)))
    return pieces
