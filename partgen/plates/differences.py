"""What is different between two plates, in words."""

from __future__ import annotations

from partgen.plates.plate import Hole, Plate

SAME = 0.005  # mm; a change smaller than this is not told


def differences(a: Plate, b: Plate) -> list[str]:
    """Return what is different between two plates, in words; lengths with "mm"."""
    told: list[str] = []
    if a.material.name != b.material.name:
        told.append(f"material {a.material.name} -> {b.material.name}")
    sizes = [("thickness", a.thickness, b.thickness)]
    (ax0, ay0, ax1, ay1), (bx0, by0, bx1, by1) = a.outline.box, b.outline.box
    sizes += [("length", ax1 - ax0, bx1 - bx0), ("height", ay1 - ay0, by1 - by0)]
    told += [_change(*size) for size in sizes if abs(size[1] - size[2]) > SAME]
    told += _holes(a, b) + _windows(a, b)
    if not told:
        told.append(f"outline (area {100 * (b.area / a.area - 1):+.2f} %)")
    return told


def _change(what: str, before: float, after: float) -> str:
    return f"{what} {before:.6g} mm -> {after:.6g} mm"


def _holes(a: Plate, b: Plate) -> list[str]:
    told: list[str] = []
    old, new = ({h.name: h for h in p.holes} for p in (a, b))
    told += [f"hole {name} gone" for name in old if name not in new]
    told += [f"hole {name} new" for name in new if name not in old]
    for name in (n for n in old if n in new):
        before, after = old[name], new[name]
        if abs(before.diameter - after.diameter) > SAME:
            told.append(_change(f"hole {name}", before.diameter, after.diameter))
        (ax, ay), (bx, by) = _from_corner(a, before), _from_corner(b, after)
        if max(abs(ax - bx), abs(ay - by)) > SAME:
            told.append(
                f"hole {name} from the lower left corner ({ax:.6g}, {ay:.6g}) mm -> "
                f"({bx:.6g}, {by:.6g}) mm"
            )
    return told


def _from_corner(plate: Plate, hole: Hole) -> tuple[float, float]:
    x0, y0, _, _ = plate.outline.box
    return hole.x - x0, hole.y - y0


def _windows(a: Plate, b: Plate) -> list[str]:
    old, new = ({w.name: w.outline for w in p.windows} for p in (a, b))
    told = [f"window {name} gone" for name in old if name not in new]
    told += [f"window {name} new" for name in new if name not in old]
    for name in (n for n in old if n in new):
        if abs(old[name].area - new[name].area) > SAME:
            told.append(f"window {name}: size")
        corners = [
            (o.box[0] - p.outline.box[0], o.box[1] - p.outline.box[1])
            for o, p in ((old[name], a), (new[name], b))
        ]
        if max(abs(u - v) for u, v in zip(*corners, strict=True)) > SAME:
            told.append(f"window {name}: place")
    return told
