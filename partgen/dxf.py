"""Write the DXF that is cut; reading is in ``dxf_read`` and offered here too.

One closed contour a loop, lines and true arcs only, layers by operation, openings before outside
edges, nominal size. R2000 (LWPOLYLINE, unit in the header) or R12 (POLYLINE; that version has no
unit in its header). Both say their unit in a comment on the first lines of the file. The same
drawing gives the same bytes; a newer ezdxf may order its own tables another way.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from math import isfinite, tan
from typing import Literal

from ezdxf import options  # type: ignore[attr-defined]
from ezdxf.document import Drawing as Document
from ezdxf.layouts.layout import Modelspace

from partgen.dxf_read import INSIDE, OUTSIDE, REFERENCE, Drawing, read, read_pieces
from partgen.dxf_tags import NOMINAL, UNIT_COMMENT, DxfError
from partgen.measure import LONGEST, per_unit
from partgen.outline import Outline
from partgen.segment import Segment

__all__ = ["Drawing", "DxfError", "Unit", "Version", "read", "read_pieces", "write"]

Unit = Literal["mm", "in"]
Version = Literal["R2000", "R12"]
LONGEST_COMMENT = 200  # characters; R12 allows 255 a line
_Loops = list[tuple[str, tuple[Outline, ...]]]  # layer and its outlines, in the file's order
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
    loops = _layers(drawing)
    box = _checked(drawing, loops)
    stream = io.StringIO()
    with _fixed_meta_data():
        _document(loops, box, unit, version).write(stream)
    body = _EXPONENT.sub(_plain, stream.getvalue())
    head = "".join(f"999\n{line}\n" for line in _comments(drawing, unit))
    return (head + body).encode("ascii", "replace")


def _document(
    loops: _Loops,
    box: _Box,
    unit: Unit,
    version: Version,
) -> Document:
    scale = per_unit(unit)
    document = Document.new(version)
    document.layers.remove("Defpoints")
    _head(document, [_placed(v, scale) for v in box], unit)
    space = document.modelspace()
    for layer, outlines in loops:
        if outlines:
            document.layers.add(layer)
        for outline in outlines:
            _add(space, outline, layer, scale, version)
    return document


def _layers(drawing: Drawing) -> _Loops:
    """Return the layers in the order of the file: what is not cut, openings, outside edges."""
    return [
        (REFERENCE, drawing.reference),
        (INSIDE, drawing.inside),
        (OUTSIDE, drawing.outside),
    ]


def _checked(drawing: Drawing, loops: _Loops) -> _Box:
    """Return the extents of all outlines [mm], after refusing what cannot be cut."""
    if not (drawing.outside or drawing.inside):
        raise DxfError("a drawing without outlines: nothing to cut, so no DXF is written")
    boxes = [outline.box for _, outlines in loops for outline in outlines]
    for side in (v for box in boxes for v in box):
        if not isfinite(side) or abs(side) > LONGEST:
            raise DxfError(f"an outline reaches {side:g} mm; a DXF holds finite sizes up to 100 m")
    seen = set()
    for outline in (*drawing.inside, *drawing.outside):
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


def _add(space: Modelspace, outline: Outline, layer: str, scale: float, version: Version) -> None:
    attributes = {"layer": layer}
    if outline.circle_of:
        x, y, diameter = outline.circle_of
        centre = _placed(x, scale), _placed(y, scale)
        space.add_circle(centre, _placed(diameter / 2, scale), attributes)
        return
    points = [
        (_placed(s.x0, scale), _placed(s.y0, scale), round(s.bulge, _BULGE_PLACES) + 0.0)
        for s in _written(outline)
    ]
    if version == "R12":
        space.add_polyline2d(points, format="xyb", close=True, dxfattribs=attributes)
    else:
        space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=attributes)


def _written(outline: Outline) -> Iterator[Segment]:
    """Yield lines and arcs, an arc of more than a half turn in halves: readers drop its rest."""
    for segment in outline.segments:
        if abs(segment.bulge) <= 1:
            yield segment
            continue
        (x, y), bulge = segment.at(0.5), tan(segment.sweep / 8)
        yield Segment(segment.x0, segment.y0, x, y, bulge)
        yield Segment(x, y, segment.x1, segment.y1, bulge)


def _placed(mm: float, scale: float) -> float:
    return round(mm / scale, _PLACES) + 0.0  # never minus zero


def _comments(drawing: Drawing, unit: Unit) -> list[str]:
    own = (_clean(comment) for comment in drawing.comments)
    return [UNIT_COMMENT + unit, NOMINAL, *(line for line in own if line)]


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
