"""Benchmark of the torch's way on nested sheets: by the nearest next, as found, the lower bound.

Run: PYTHONPATH=. python tests/benchmarks/route.py [PLATES ...]

Plates of 25 kinds with openings, nested on large sheets, cut with leads, with and without
micro-joints and heat to leave. Ratios to the bound; times of the processor.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))  # this tree, whatever else is installed

from layout import GAP, MARGIN, bracket_job

from partgen.cut import plan as planning
from partgen.cut.loop import Lying
from partgen.cut.nearest import nearest_next
from partgen.cut.nested import PER_MM, Nested, runs_of
from partgen.cut.order import cut_order
from partgen.cut.plan import Plan, Way, plan
from partgen.entries.cutting import cutting
from partgen.geometry.belt import rectangle
from partgen.layout import Sheet, lay_out


def nested(count: int) -> list[Lying]:
    """Return ``count`` plates as they lie on one sheet."""
    pieces = bracket_job(25, -(-count // 25))
    length = 60.0 * count + 400
    sheet = Sheet("long", rectangle(length, 1500, 0, (length / 2, 750)))
    layout = lay_out(pieces, [sheet], gap=GAP, margin=MARGIN, steps=0)
    kinds = {p.name: p for p in pieces}
    found = []
    for p in layout.placements[:count]:
        *openings, edge = kinds[p.piece].placed(p.x, p.y, p.turn)
        named = tuple((f"opening {k}", o) for k, o in enumerate(openings))
        found.append(Lying(f"{p.piece} {p.copy}", named, edge))
    return found


def timed(plates: list[Lying], way: Way) -> tuple[Plan, float, float, float]:
    """Return the plan, the travel by the nearest next, and times of plan and order [s]."""
    asked: list[tuple[object, ...]] = []

    def noted(*args: object) -> list[tuple[int, int]]:
        begin = time.process_time()
        found = cut_order(*args)  # type: ignore[arg-type]
        asked.append((*args, time.process_time() - begin))
        return found

    planning.cut_order = noted  # type: ignore[assignment]
    begin = time.process_time()
    found = plan(plates, cutting("plasma-65a"), way)
    took = time.process_time() - begin
    ((outlines, passes, _, order_took),) = asked
    loops = Nested(outlines, [runs_of(p) for p in passes], way.cool)  # type: ignore[arg-type,union-attr]
    order = nearest_next(loops)
    plain = Nested(outlines, loops.runs, 0.0)  # type: ignore[arg-type]
    return found, plain.cost(order, [0] * len(order)) / PER_MM, took, order_took  # type: ignore[return-value]


def main() -> None:
    """Print the table."""
    counts = [int(a) for a in sys.argv[1:]] or [25, 100, 500]
    ways = {"": Way(leads=True), "4 joints": Way(leads=True, joints=4),
            "cool 60": Way(leads=True, cool=60.0)}  # fmt: skip
    print(f"{'plates':>7} {'':9}{'nearest':>9}{'found':>8} of the bound{'order s':>9}{'plan s':>8}")
    for count in counts:
        plates = nested(count)
        for name, way in ways.items():
            found, peer, took, order_took = timed(plates, way)
            least = found.least_travel
            print(f"{count:7} {name:9}{peer / least:9.2f}{found.travel / least:8.2f}"
                  f"{'':13}{order_took:9.2f}{took:8.2f}", flush=True)  # fmt: skip


if __name__ == "__main__":
    main()
