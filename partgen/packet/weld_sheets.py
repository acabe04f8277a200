"""The weld map on paper: a picture of every plate with its welds, and a list in their sequence."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum

from partgen.entries.rail import Rail
from partgen.errors import GeometryError
from partgen.geometry.chain import Chain
from partgen.geometry.outline import Outline, Vertex
from partgen.job.build import Build
from partgen.measure import in_unit, shown
from partgen.packet.picture import METAL, label, path, svg
from partgen.packet.tables import csv_bytes
from partgen.plates.plate import Plate
from partgen.plates.seam import KEEP_OUT
from partgen.welds.sequence import middle
from partgen.welds.weld import Weld
from partgen.welds.weld_map import weld_map

HOLD = (
    "HOLD POINT after tacking: real bolt and dummy spacer in, a second person examines, then cycle "
    "the joint from bump to droop with springs out; only then weld"
)
ROW = 800.0  # mm, width of a row of plates
SIZE = 9.0  # mm, letters
_WELD = 'fill="none" stroke="#b3261e" stroke-linecap="round"'
_KEEP = 'fill="#d9a441" fill-opacity="0.35" stroke="none"'


def weld_sheets(build: Build, job: str) -> dict[str, bytes]:
    """Return the weld map's files by name; ``job`` is for the picture's name."""
    welds, notes = weld_map(build)
    files = {"weld-map.csv": weld_list(welds, notes, build.job.unit)}
    if welds:
        files[f"pictures/{job}_weld-map.svg"] = weld_picture(build, welds)
    return files


def weld_list(welds: Sequence[Weld], notes: Sequence[str], unit: str) -> bytes:
    """Return the list of welds in their sequence, the hold point ahead."""
    head = (
        "step", "plate", "plates", "edge", "to", f"edge {unit}", f"leg {unit}", "fillets",
        f"weld {unit}", f"to flange edge {unit}", "note",
    )  # fmt: skip
    rows: list[tuple[str, ...]] = [("hold", *[""] * 9, HOLD)]
    rows += [weld_row(w, unit) for w in welds]
    rows.append(("all", *[""] * 7, all_welds(welds, unit), "", ""))
    rows += [("note", *[""] * 9, in_unit(note, unit)) for note in notes]
    return csv_bytes(head, rows)


def weld_row(w: Weld, unit: str) -> tuple[str, ...]:
    """Return one weld's line of the list."""
    digits = 1 if unit == "mm" else 3
    return (
        str(w.step),
        w.plate,
        str(w.count),
        in_unit(w.seam.edge, unit),
        in_unit(w.seam.mate, unit),
        shown(w.edge_length, unit, digits),
        w.seam.kind if w.leg is None else shown(w.leg, unit),
        str(w.seam.sides),
        shown(w.length, unit, digits),
        "" if w.flange is None else shown(w.flange, unit, digits),
        in_unit("; ".join(w.notes), unit),
    )


def all_welds(welds: Sequence[Weld], unit: str) -> str:
    """Return the length of all fillets on all plates, in the job's unit."""
    total = fsum(w.total for w in welds)
    return shown(total, unit, 0 if unit == "mm" else 1)


def weld_picture(build: Build, welds: Sequence[Weld], title: str = "") -> bytes:
    """Return every plate with its welds, numbered in sequence; rails' keep-outs are shaded.

    Args:
        build: the job.
        welds: of its weld map.
        title: begins the line above; the job's name if empty.
    """
    body: list[str] = []
    x = y = row = width = 0.0
    for plate in build.plates:
        mine = [w for w in welds if w.plate == plate.label]
        if not mine:
            continue
        rails = dict.fromkeys(w.seam.rail for w in mine if w.seam.rail)
        bands = [band for name in rails for band in _bands(build.shop.rail(name), plate)]
        boxes = [o.box for o in (plate.outline, *bands)]
        x0, y0 = min(b[0] for b in boxes), min(b[1] for b in boxes)
        x1, y1 = max(b[2] for b in boxes), max(b[3] for b in boxes)
        words = [plate.label, *(_caption(w, build.job.unit) for w in mine)]
        wide = max(x1 - x0, 0.6 * SIZE * max(len(text) for text in words))
        if x and x + wide > ROW:
            x, y, row = 0.0, y - row - 4 * SIZE, 0.0
        dx, dy = x + (wide - (x1 - x0)) / 2 - x0, y - y1
        body += _drawn(plate, mine, bands, dx, dy)
        foot = y - (y1 - y0) - 1.5 * SIZE
        body += [
            label(text, x + wide / 2, foot - k * 1.3 * SIZE, SIZE) for k, text in enumerate(words)
        ]
        x, row = x + wide + 3 * SIZE, max(row, y1 - y0 + (len(words) + 1) * 1.3 * SIZE)
        width = max(width, x)
    title = title or f"Weld map, {build.job.name}"
    what = f"{title}: number, leg x length; shaded: keep {KEEP_OUT:g} mm off"
    head = in_unit(what, build.job.unit)
    body.append(label(head, width / 2, 2.5 * SIZE, 1.1 * SIZE))
    wide = max(width, 0.62 * 1.1 * SIZE * len(head))
    left = (width - wide) / 2
    box = (left, y - row, left + wide, 4 * SIZE)
    return svg(body, box, f"Weld map, {build.job.name}", SIZE).encode("utf-8")


def _drawn(
    plate: Plate, welds: Sequence[Weld], bands: Sequence[Outline], dx: float, dy: float
) -> list[str]:
    body = [f"<g {_KEEP}>{path([o.moved(dx, dy)], 'stroke:none', 0.0)}</g>" for o in bands]
    body.append(path(plate.moved(dx, dy).outlines, METAL, 0.8))
    numbers: dict[Chain, list[str]] = {}
    for weld in welds:
        if weld.run:
            body.append(_line(weld.run, dx, dy))
        numbers.setdefault(weld.path, []).append(str(weld.step))
    for edge, steps in numbers.items():
        (x, y), (ux, uy) = middle(edge), edge[len(edge) // 2].direction(0.5)
        at = (x - uy * SIZE + dx, y + ux * SIZE + dy)  # in the metal, left of the edge
        body.append(label(", ".join(steps), *at, SIZE))
    return body


def _caption(weld: Weld, unit: str) -> str:
    """Return number, leg, length and mate."""
    digits = 0 if unit == "mm" else 2
    long = shown(weld.length, unit, digits)
    size = weld.seam.kind if weld.leg is None else f"{shown(weld.leg, unit)} x"
    return f"{weld.step}: {size} {long} {unit} to {in_unit(weld.seam.mate, unit)}"


def _line(chain: Chain, dx: float, dy: float) -> str:
    first = chain[0]
    data = [f"M{first.x0 + dx:.3f} {-(first.y0 + dy):.3f}"]
    for s in chain:
        end = f"{s.x1 + dx:.3f} {-(s.y1 + dy):.3f}"
        data.append(
            f"A{s.radius:.3f} {s.radius:.3f} 0 0 {int(s.bulge < 0)} {end}" if s.bulge else f"L{end}"
        )
    return f'<path {_WELD} stroke-width="3" d="{"".join(data)}"/>'


def _bands(rail: Rail, plate: Plate) -> list[Outline]:
    """Return the strips along a rail's upper and lower edge that no weld should be in."""
    way = -1.0 if plate.hand == "right" else 1.0
    x0, _, x1, _ = plate.outline.box
    low, high = sorted((x0 * way, x1 * way))
    found = []
    for a, b in ((0.0, KEEP_OUT), (rail.depth - KEEP_OUT, rail.depth)):
        try:
            points = [*rail.edge(a, low, high), *reversed(rail.edge(b, low, high))]
        except GeometryError:
            continue  # the rail is not measured so far
        band = Outline.of([Vertex(x * way, y) for x, y in points])
        found.append(band)
    return found
