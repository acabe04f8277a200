"""DXF writing against bare ezdxf writing the same entities: ``python tests/benchmarks/dxf.py``.

Both make a document, add the entities of one nested sheet and serialise it; in turn, medians. The
ratio should stay under 1.5.
"""

import io
import logging
import statistics
import sys
import time
from pathlib import Path

import ezdxf

sys.path.insert(0, str(Path(__file__).parents[2]))  # this tree, whatever else is installed

from partgen.dxf.read import OUTSIDE
from partgen.dxf.write import Item, write_items
from partgen.tasks.making import make

ROOT = Path(__file__).parents[2]
RUNS = 15


def bare(outlines, version):
    """Write outlines with nothing but the library."""
    document = ezdxf.new(version)
    space = document.modelspace()
    for outline in outlines:
        if outline.circle_of:
            x, y, diameter = outline.circle_of
            space.add_circle((x, y), diameter / 2)
        else:
            points = [(v.x, v.y, v.bulge) for v in outline.vertices]
            add = space.add_lwpolyline if version == "R2000" else space.add_polyline2d
            add(points, format="xyb", close=True)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode()


def seconds(work):
    begin = time.perf_counter()
    work()
    return time.perf_counter() - begin


def main():
    made = make(ROOT / "demo_parts" / "hill-trial-buggy.toml", {}, (), "R2000")
    found = max(made.plans, key=lambda p: len(p.plan.cuts))
    outlines = [o for _, loops in found.nest.placed(found.sheet, found.number) for o in loops] * 12
    outlines = [o.moved(0, 300.0 * k) for k, o in enumerate(outlines)]
    items = [Item(OUTSIDE, outline) for outline in outlines]
    logging.disable(logging.WARNING)  # the bare library warns that R12 has no unit
    for version in ("R2000", "R12"):
        mine, peer = [], []
        for _ in range(RUNS):
            mine.append(seconds(lambda v=version: write_items(items, unit="mm", version=v)))
            peer.append(seconds(lambda v=version: bare(outlines, v)))
        a, b = statistics.median(mine), statistics.median(peer)
        print(
            f"{version:6} {len(outlines)} outlines  {1000 * a:7.1f} ms   bare ezdxf {1000 * b:7.1f} ms   ratio {a / b:5.2f}"
        )


if __name__ == "__main__":
    main()
