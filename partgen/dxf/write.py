"""Write the DXF that is cut; reading is in ``dxf_read`` and offered here too.

One closed contour a loop, lines and true arcs only, layers by operation, marks before cuts and the
deepest loop first, nominal size unless its head says otherwise. R2000 (LWPOLYLINE, unit in the
header) or R12 (POLYLINE; that version has no unit in its header). Both say their unit in a comment
on the first lines of the file. The same drawing gives the same bytes; a newer ezdxf may order its
own tables another way.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from math import isfinite
from typing import Literal

from ezdxf import options  # type: ignore[attr-defined]
from ezdxf.document import Drawing as Document
from ezdxf.layouts.layout import Modelspace

from partgen.dxf.item import Item, drawing_items
from partgen.dxf.read import NOT_CUT, Drawing, read, read_pieces
from partgen.dxf.tags import COMPENSATED, HELD, NOMINAL, UNIT_COMMENT, DxfError
from partgen.geometry.outline import Outline
from partgen.measure import LONGEST, kerf_text, per_unit

__all__ = [
    "Drawing",
    "DxfError",
    "Item",
    "Unit",
    "Version",
    "read",
    "read_pieces",
    "write",
    "write_items",
]

Unit = Literal["mm", "in"]
Version = Literal["R2000", "R12"]
LONGEST_COMMENT = 200  # characters; R12 allows 255 a line
_Box = tuple[float, float, float, float]
_CODES = {"mm": 4, "in": 1}  # $INSUNITS
_PLACES, _BULGE_PLACES = 10, 12  # decimals written; hides the last bits of another machine's sine
_EXPONENT = re.compile(r"^-?\d+(?:\.\d+)?e[+-]?\d+$", re.MULTILINE)


def write(drawing: Drawing, *, unit: Unit, version: Version = "R2000") -> bytes:
    """Return a whole DXF file.

    Args:
        drawing: what is cut, in mm, at nominal size.
        unit: unit of the numbers in the file.
        version: "R2000", or "R12" for controls that know nothing newer.

    Raises:
        DxfError: nothing to cut, two equal outlines, or a number that is not finite or beyond
            100 m.
    """
    if not (drawing.outside or drawing.inside):
        raise DxfError("a drawing without outlines: nothing to cut, so no DXF is written")
    for outline in (*drawing.reference, *drawing.inside, *drawing.outside):
        _refuse_endless(outline.box)
    return write_items(drawing_items(drawing), drawing.comments, unit=unit, version=version)


def write_items(
    items: Sequence[Item],
    comments: Sequence[str] = (),
    *,
    unit: Unit,
    version: Version = "R2000",
    kerf: float = 0.0,
    joint: float = 0.0,
) -> bytes:
    """Return a whole DXF file with ``items`` in their order.

    Args:
        items: what is drawn, in mm.
        comments: lines at the head of the file.
        unit: unit of the numbers in the file.
        version: "R2000" or "R12".
        kerf: what the cuts are compensated for; the head of the file says so [mm].
        joint: left open at each micro-joint, as the head of the file says; 0 for none [mm].

    Raises:
        DxfError: see :func:`write`.
    """
    box = _checked(items)
    stream = io.StringIO()
    with _fixed_meta_data():
        _document(items, box, unit, version).write(stream)
    body = _EXPONENT.sub(_plain, stream.getvalue())
    head = "".join(f"999\n{line}\n" for line in _comments(comments, unit, kerf, joint))
    return (head + body).encode("ascii", "replace")


def _document(items: Sequence[Item], box: _Box, unit: Unit, version: Version) -> Document:
    scale = per_unit(unit)
    document = Document.new(version)
    document.layers.remove("Defpoints")
    _head(document, [_placed(v, scale) for v in box], unit)
    for layer in dict.fromkeys(item.layer for item in items):
        document.layers.add(layer)
    for item in items:
        _add(document.modelspace(), item, scale, version)
    return document


def _checked(items: Sequence[Item]) -> _Box:
    """Return the extents of all items [mm], after refusing what cannot be cut."""
    if not any(item.layer not in NOT_CUT for item in items):
        raise DxfError("a drawing without outlines: nothing to cut, so no DXF is written")
    boxes = [item.box for item in items]
    for box in boxes:
        _refuse_endless(box)
    seen = set()
    for item in items:
        outline = item.shape
        if not isinstance(outline, Outline) or item.layer in NOT_CUT:
            continue
        x, y = outline.centroid
        mark = (round(x, 3), round(y, 3), round(outline.area, 3), round(outline.length, 3))
        if mark in seen:
            raise DxfError(
                f"two equal outlines about ({x:g}, {y:g}) mm would be cut twice; drop one"
            )
        seen.add(mark)
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )


def _refuse_endless(box: _Box) -> None:
    for side in box:
        if not isfinite(side) or abs(side) > LONGEST:
            raise DxfError(f"an outline reaches {side:g} mm; a DXF holds finite sizes up to 100 m")


def _head(document: Document, box: list[float], unit: Unit) -> None:
    """Set units, extents and the first view; ``box`` in the file's unit."""
    if document.dxfversion > "AC1009":
        document.header["$INSUNITS"] = _CODES[unit]
        document.header["$MEASUREMENT"] = int(unit == "mm")
    document.header["$LUNITS"] = 2  # decimal
    document.header["$AUNITS"] = 0  # degrees
    document.header["$ANGDIR"] = 0  # anticlockwise
    x0, y0, x1, y1 = box
    document.set_modelspace_vport(1.1 * max(x1 - x0, y1 - y0), ((x0 + x1) / 2, (y0 + y1) / 2))
    space = document.modelspace().dxf
    space.extmin, space.extmax = (x0, y0, 0.0), (x1, y1, 0.0)
    space.limmin, space.limmax = (x0, y0), (x1, y1)


def _add(space: Modelspace, item: Item, scale: float, version: Version) -> None:
    attributes = {"layer": item.layer}
    if isinstance(item.shape, Outline) and item.shape.circle_of:
        x, y, diameter = item.shape.circle_of
        centre = _placed(x, scale), _placed(y, scale)
        space.add_circle(centre, _placed(diameter / 2, scale), attributes)
        return
    segments = item.segments
    points = [
        (_placed(s.x0, scale), _placed(s.y0, scale), round(s.bulge, _BULGE_PLACES) + 0.0)
        for s in segments
    ]
    if not item.is_closed:
        points.append((_placed(segments[-1].x1, scale), _placed(segments[-1].y1, scale), 0.0))
    add = space.add_polyline2d if version == "R12" else space.add_lwpolyline
    add(points, format="xyb", close=item.is_closed, dxfattribs=attributes)


def _placed(mm: float, scale: float) -> float:
    return round(mm / scale, _PLACES) + 0.0  # never minus zero


def _comments(comments: Sequence[str], unit: Unit, kerf: float, joint: float) -> list[str]:
    own = (_clean(comment) for comment in comments)
    size = f"{COMPENSATED}{kerf_text(kerf, unit)}; set none at the machine" if kerf else NOMINAL
    held = [HELD + kerf_text(joint, unit)] if joint else []
    return [UNIT_COMMENT + unit, size, *held, *(line for line in own if line)]


def _clean(comment: str) -> str:
    """Return one printable line, so that no comment can become a group code."""
    text = "".join(c if c.isprintable() else " " for c in comment)
    return text.strip()[:LONGEST_COMMENT].strip()


def _plain(match: re.Match[str]) -> str:
    """Return a number without exponent, which old controls cannot read."""
    return f"{float(match[0]):.{_BULGE_PLACES}f}"


@contextmanager
def _fixed_meta_data() -> Iterator[None]:
    """Let ezdxf write no time, no random number and no version of its own."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before
