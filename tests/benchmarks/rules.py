"""All geometry rules on one plate, as a ratio: ``python tests/benchmarks/rules.py``.

Peer in the same run: one shapely polygon of the same plate built from coordinates, and one distance
query for each pair of its 20 openings. Also 1,000 plates of a parameter sweep in one call.
"""

import statistics
import sys
import time
from pathlib import Path

import shapely

TESTS = Path(__file__).parents[1]
sys.path[:0] = [str(TESTS.parent), str(TESTS)]  # this tree, whatever else is installed

from helpers import shop  # noqa: E402

from partgen.geometry.belt import belt, corners, rectangle  # noqa: E402
from partgen.geometry.outline import Outline  # noqa: E402
from partgen.plates.plate import Hole, Plate, Window  # noqa: E402
from partgen.reference.bolt import bolt  # noqa: E402
from partgen.reference.material import material  # noqa: E402
from partgen.rules import check_plates  # noqa: E402

ROUNDS = 25
HOLES, WINDOWS = 12, 8


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


def rules_once(where):
    piece = plate()
    begin = time.perf_counter()
    found = check_plates([piece], where)
    return time.perf_counter() - begin, len(found)


def peer_once():
    piece = plate()
    shell = piece.outline.polygon("inside").exterior.coords[:]
    loops = [o.polygon("outside").exterior.coords[:] for _, o in piece.named_openings]
    begin = time.perf_counter()
    shapely.Polygon(shell, loops)
    views = [shapely.Polygon(loop) for loop in loops]
    for k, view in enumerate(views):
        for other in views[k + 1 :]:
            shapely.distance(view, other)
    return time.perf_counter() - begin


def main():
    where = shop()
    mine, peer = [], []
    for _ in range(ROUNDS):
        seconds, findings = rules_once(where)
        mine.append(seconds)
        peer.append(peer_once())
    a, b = statistics.median(mine), statistics.median(peer)
    print(f"all geometry rules, {HOLES + WINDOWS} openings, {findings} findings  {a * 1e3:7.2f} ms")
    print(
        f"shapely polygon and {(HOLES + WINDOWS) * (HOLES + WINDOWS - 1) // 2} distances  {b * 1e3:7.2f} ms   ratio {a / b:5.2f} (at most 5)"
    )
    sweep = [plate(620 + 0.1 * k) for k in range(1000)]
    begin = time.perf_counter()
    found = check_plates(sweep, where)
    seconds = time.perf_counter() - begin
    print(
        f"sweep of {len(sweep)} plates in one call: {len(found)} findings  {seconds:7.2f} s   {seconds / len(sweep) / b:5.2f} of the peer for each plate"
    )


if __name__ == "__main__":
    main()
