"""DXF writing against bare ezdxf writing the same entities: ``python tests/benchmarks/dxf.py``.

Both make a document, add the entities of one nested sheet and serialise it.
"""

import io
import logging

import ezdxf
from beside import ROOT, head, row

from partgen.dxf.read import OUTSIDE
from partgen.dxf.write import Item, write_items
from partgen.tasks.making import make

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


def main():
    made = make(ROOT / "demo_parts" / "hill-trial-buggy.toml", {}, (), "R2000")
    found = max(made.plans, key=lambda p: len(p.plan.cuts))
    outlines = [o for _, loops in found.nest.placed(found.sheet, found.number) for o in loops] * 12
    outlines = [o.moved(0, 300.0 * k) for k, o in enumerate(outlines)]
    items = [Item(OUTSIDE, outline) for outline in outlines]
    logging.disable(logging.WARNING)  # the bare library warns that R12 has no unit
    head("bare ezdxf, the same entities")
    for version in ("R2000", "R12"):
        row(
            f"{version}, {len(outlines)} outlines",
            lambda v=version: write_items(items, unit="mm", version=v),
            lambda v=version: bare(outlines, v),
            RUNS,
            "asked: at most 1.5",
        )


if __name__ == "__main__":
    main()
