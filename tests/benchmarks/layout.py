"""Layout benchmark: one table, core and compiled library in the same run.

Run: python tests/benchmarks/layout.py [FOLDER] [--seconds 5] [--only NAME ...]

FOLDER holds open strip-packing instances, one JSON each: name, strip_height, items of polygon,
demand, allowed_rotations. Without it only the bracket jobs made here are run. Density is metal over
strip height times used length, in percent; a layout that fails the check is shown as nan.
"""

from __future__ import annotations

import argparse
import json
import random
import resource
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import shapely

from partgen.geometry.belt import Pin, belt, rectangle
from partgen.geometry.outline import Outline, Vertex
from partgen.layout import Layout, Piece, Sheet, lay_out, strip, verify
from partgen.layout.search import Search

Result = TypeVar("Result")
TINY = 1e-7  # mm; the gap of instances that have none
HEIGHT = 1000.0  # mm; strips are scaled to this
WHOLE = Sheet("whole", rectangle(3000, 1500, 0, (1500, 750)), 20)
GAP, MARGIN = 6.0, 10.0


def instance(path: Path) -> tuple[list[Piece], Sheet, float]:
    """Return pieces, a strip long enough and the total area of an instance."""
    data = json.loads(path.read_text())
    scale = HEIGHT / data["strip_height"]
    pieces = []
    for k, item in enumerate(data["items"]):
        outline = Outline.of([Vertex(x * scale, y * scale) for x, y in item["polygon"]])
        turns = tuple(float(t) for t in item["allowed_rotations"])
        pieces.append(Piece(f"item {k}", (outline,), item["demand"], turns))
    area = sum(p.area * p.count for p in pieces)
    length = max(2.5 * area / HEIGHT, 2 * HEIGHT)  # plates are placed along the longer side
    return pieces, Sheet("strip", rectangle(length, HEIGHT, 0, (length / 2, HEIGHT / 2))), area


def bracket(chance: random.Random) -> tuple[Outline, ...]:
    """Return a bracket-like plate with an opening: ear, frame, angle or ring."""
    w, h = chance.uniform(60, 260), chance.uniform(60, 200)
    kind = chance.randrange(4)
    if kind == 0:
        ear = Pin(w * chance.uniform(0.3, 0.7), h, chance.uniform(20, 40))
        return Outline.circle(w / 2, h * 0.3, 14), belt([Pin(0, 0, 8), Pin(w, 0, 8), ear])
    if kind == 1:
        edge = belt(
            [Pin(0, 0, 12), Pin(w + 60, 0, 12), Pin(w + 60, h + 60, 12), Pin(0, h + 60, 12)]
        )
        return rectangle(w * 0.7, h * 0.7, 10, (w / 2 + 30, h / 2 + 30)), edge
    if kind == 2:
        pins = [(0, 0), (w, 0), (w, h * 0.4), (w * 0.4, h * 0.4), (w * 0.4, h), (0, h)]
        return Outline.circle(w * 0.2, h * 0.2, 12), belt([Pin(x, y, 0, 5) for x, y in pins])
    d = chance.uniform(30, 90)
    return Outline.circle(0, 0, d * 0.4), Outline.circle(0, 0, d)


def bracket_job(kinds: int, count: int) -> list[Piece]:
    """Return ``kinds`` different plates, ``count`` of each."""
    chance = random.Random(kinds)
    return [Piece(f"plate {k}", bracket(chance), count) for k in range(kinds)]


def overlap(layout: Layout, pieces: list[Piece]) -> float:
    """Return the area by which placed outlines overlap, by shapely [mm2]."""
    kinds = {p.name: p for p in pieces}
    groups: dict[tuple[str, int], list[shapely.Polygon]] = {}
    for p in layout.placements:
        outlines = kinds[p.piece].placed(p.x, p.y, p.turn)
        rings = [o.polygon("inside", 0.001).exterior for o in outlines]
        groups.setdefault((p.sheet, p.number), []).append(shapely.Polygon(rings[-1], rings[:-1]))
    total = 0.0
    for placed in groups.values():
        a, b = shapely.STRtree(placed).query(placed)
        pairs = [(placed[i], placed[k]) for i, k in zip(a, b, strict=True) if i < k]
        total += sum(shapely.intersection(p, q).area for p, q in pairs)
    return total


def run(
    pieces: list[Piece], sheets: list[Sheet], gap: float, margin: float, mode: str, seconds: float
) -> tuple[float, float]:
    """Return used length [mm], nan if wrong, and the time taken [s], in one of three modes."""
    installed, shorten = strip.is_installed, Search._shorten_last
    if mode == "core":
        strip.is_installed = lambda: False
    if mode == "library":
        Search._shorten_last = lambda self, budget: None
    asked = [Piece(p.name, (p.edge,), p.count, p.turns) for p in pieces]
    asked = asked if mode == "library" else pieces
    before = time.perf_counter()
    try:
        layout = lay_out(asked, sheets, gap=gap, margin=margin, seconds=seconds)
    finally:
        strip.is_installed, Search._shorten_last = installed, shorten
    took = time.perf_counter() - before
    faults = verify(layout, asked, sheets, gap=gap, margin=margin)
    good = not faults and overlap(layout, asked) < 0.01 * len(layout.placements)
    return (layout.used_length - margin if good else float("nan")), took


def instances(folder: Path, seconds: float, only: list[str]) -> None:
    """Print densities of core, library and both, and their means."""
    print(f"\nopen instances, {seconds:g} s: density in %")
    print(f"{'instance':12}{'core':>8}{'library':>9}{'both':>8}{'time s':>8}")
    sums = [0.0, 0.0, 0.0]
    paths = [p for p in sorted(folder.glob("*.json")) if not only or p.stem in only]
    for path in paths:
        pieces, sheet, area = instance(path)
        row = [run(pieces, [sheet], TINY, 0.0, m, seconds) for m in ("core", "library", "both")]
        density = [100 * area / HEIGHT / length for length, _ in row]
        sums = [s + d for s, d in zip(sums, density, strict=True)]
        print(f"{path.stem:12}{density[0]:8.2f}{density[1]:9.2f}{density[2]:8.2f}{row[2][1]:8.1f}")
    core, library, both = (s / max(1, len(paths)) for s in sums)
    print(f"{'mean':12}{core:8.2f}{library:9.2f}{both:8.2f}")


def brackets(seconds: float) -> None:
    """Print used lengths of bracket jobs with windows."""
    print(f"\nbracket jobs with windows, {seconds:g} s: used length in mm")
    print(f"{'plates':12}{'core':>8}{'library':>9}{'both':>8}{'time s':>8}")
    long = [Sheet("long", rectangle(12000, 1250, 0, (6000, 625)))]
    for kinds, count in ((12, 2), (59, 1), (20, 10), (60, 1)):
        pieces = bracket_job(kinds, count)
        row = [run(pieces, long, GAP, MARGIN, m, seconds) for m in ("core", "library", "both")]
        a, b, c = (length for length, _ in row)
        print(f"{f'{kinds} x {count}':12}{a:8.1f}{b:9.1f}{c:8.1f}{row[2][1]:8.1f}")


def timed(name: str, work: Callable[[], Result]) -> Result:
    """Do ``work`` and print its time by the clock and of the processor."""
    clock, processor = time.perf_counter(), time.process_time()
    result = work()
    clock, processor = time.perf_counter() - clock, time.process_time() - processor
    print(f"{name:44}{clock:8.2f}{processor:11.2f}")
    return result


def speeds() -> None:
    """Print times of first layouts, steps, large jobs and the check."""
    print(f"{'speeds':44}{'clock s':>8}{'processor s':>12}")
    few, different, many = bracket_job(12, 1), bracket_job(60, 1), bracket_job(25, 20)
    asked = {"gap": GAP, "margin": MARGIN}
    timed("first layout, 12 plates", lambda: lay_out(few, [WHOLE], steps=0, **asked))
    timed("first layout, 60 all different", lambda: lay_out(different, [WHOLE], steps=0, **asked))
    timed("200 orders of 60 all different", lambda: lay_out(different, [WHOLE], steps=600, **asked))
    layout = timed("500 plates on several sheets", lambda: lay_out(many, [WHOLE], **asked))
    faults = timed("check of 500 plates", lambda: verify(layout, many, [WHOLE], **asked))
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{len(layout.used)} sheets, {len(faults)} faults, most memory {most:.0f} MB")


def main() -> None:
    """Run what is asked and print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", nargs="?", type=Path)
    parser.add_argument("--seconds", type=float, default=5.0)
    parser.add_argument("--only", nargs="*", default=[])
    asked = parser.parse_args()
    speeds()
    if not asked.only:
        brackets(asked.seconds)
    if asked.folder:
        instances(asked.folder, asked.seconds, asked.only)


if __name__ == "__main__":
    main()
