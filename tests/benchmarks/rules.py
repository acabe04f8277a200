"""All geometry rules, as a ratio: ``python tests/benchmarks/rules.py``.

One plate, and 1,000 plates of a parameter sweep in one call. Peer: one shapely polygon of each of
the same plates built from coordinates, and one distance query for each pair of its 20 openings.
"""

import shapely
from beside import head, row
from helpers import shop

from partgen.geometry.belt import belt, corners, rectangle
from partgen.geometry.outline import Outline
from partgen.plates.plate import Hole, Plate, Window
from partgen.reference.bolt import bolt
from partgen.reference.material import material
from partgen.rules import check_plates

HOLES, WINDOWS = 12, 8
OPENINGS = HOLES + WINDOWS
PAIRS = OPENINGS * (OPENINGS - 1) // 2


def plate(width=620.0):
    """A face plate with 12 bolt holes, 8 windows and slots, and a notched edge."""
    points = [
        (0, 0),
        (width, 0),
        (width, 240),
        (380, 240),
        (350, 200),
        (250, 200),
        (220, 240),
        (0, 240),
    ]
    bolts = [bolt("M12"), bolt("M16")]
    holes = tuple(
        Hole(str(k), 40 + 48 * k, 30 + 5 * (k % 3), bolts[k % 2].hole("normal"), bolts[k % 2])
        for k in range(HOLES)
    )
    windows = [rectangle(60, 40, 12, (70 + 130 * k, 90)) for k in range(4)]
    windows += [Outline.slot(70 + 130 * k, 150, 50, 14, 12 * k) for k in range(4)]
    return Plate(
        part="bench", name="face", outline=belt(corners(points, 15)), holes=holes,
        windows=tuple(Window(f"w{k}", o) for k, o in enumerate(windows)), thickness=6.0,
        material=material("S355"),
    )  # fmt: skip


def coordinates(pieces):
    """The plates as rings of points, outside edge first."""
    return [
        (
            p.outline.polygon("inside").exterior.coords[:],
            [o.polygon("outside").exterior.coords[:] for _, o in p.named_openings],
        )
        for p in pieces
    ]


def peer(rings):
    """One polygon of each plate, and a distance for each pair of its openings."""
    for shell, loops in rings:
        shapely.Polygon(shell, loops)
        views = [shapely.Polygon(loop) for loop in loops]
        for k, view in enumerate(views):
            for other in views[k + 1 :]:
                shapely.distance(view, other)


def compared(name, widths, where, runs, asked):
    """Print the row of plates that wide; they are new in each turn, so that nothing is known."""
    rings = coordinates([plate(width) for width in widths])
    fresh = iter([[plate(width) for width in widths] for _ in range(runs)])
    row(name, lambda: check_plates(next(fresh), where), lambda: peer(rings), runs, asked)


def main():
    where = shop()
    head(f"a shapely polygon and {PAIRS} distances")
    compared(f"all geometry rules, {OPENINGS} openings", [620.0], where, 25, "asked: at most 5")
    sweep = [620 + 0.1 * k for k in range(1000)]
    compared(
        f"a sweep of {len(sweep)} such plates in one call", sweep, where, 3, "asked: at most 5"
    )


if __name__ == "__main__":
    main()
