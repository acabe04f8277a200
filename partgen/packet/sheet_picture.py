"""One sheet as it is cut.

Plates where they lie, names on their metal, marks; leads, pierces, micro-joints and the order of
cuts where these are asked for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from partgen.cautions import ON_PAPER
from partgen.cut.plan import Cut, Plan
from partgen.geometry.chain import Chain
from partgen.geometry.segment import Segment
from partgen.layout.inside import is_inside
from partgen.measure import shown
from partgen.packet.label_place import name_inside
from partgen.packet.picture import BARE, METAL, Box, box_of, chain_line, dot, label, path, svg
from partgen.packet.png import pngs
from partgen.plates.plate import Mark
from partgen.sheets.cut_files import sheet_file
from partgen.sheets.cut_plans import Asked, SheetPlan

LEAD_INK, JOINT_INK, SCRIBE_INK = "#a33c2b", "#1f6f54", "#b5651d"
TALLEST = 12.0  # mm, of a number
ROOM = 3.0  # heights of a number, the least opening that it is put into
BEYOND = 0.08  # of the used length, shown beyond it where only that is drawn


def sheet_pictures(
    plans: Sequence[SheetPlan], job: str, unit: str, asked: Asked
) -> dict[str, bytes]:
    """Return the picture of every sheet by its path in the output folder; PNG too if asked for."""
    drawn: dict[str, str] = {}
    for found in plans:
        name = sheet_file(found.nest, found.sheet, found.number, job, unit)
        drawn[f"pictures/{name.removesuffix('.dxf')}"] = sheet_picture(found, unit, asked)
    files = {f"{name}.svg": text.encode("utf-8") for name, text in drawn.items()}
    if asked.png is not None:
        files |= {f"{name}.png": content for name, content in pngs(drawn, asked.png).items()}
    return files


def sheet_picture(found: SheetPlan, unit: str, asked: Asked) -> str:
    """Return one sheet as SVG, the longer side of what is drawn across the page.

    With leads, micro-joints, scribed text or the order of cuts only the used length is drawn, so
    that these can be seen. A plate that is scribed goes without its name: the text tells it.

    Args:
        found: the sheet and how it is cut.
        unit: of the title.
        asked: whether text is scribed, and whether cuts are numbered in their order.
    """
    stock, plan = found.nest.sheet(found.sheet), found.motion or found.plan
    near = asked.order or asked.text or plan.way.leads or plan.joints > 0
    shape = stock.outline.box
    box = _used(found, upright=stock.upright) if near else shape
    turn = -90.0 if box[3] - box[1] > box[2] - box[0] else 0.0
    if turn:
        box = (box[1], -box[2], box[3], -box[0])
    side = box[2] - box[0]
    body = [path([o.turned(turn) for o in (stock.outline, *stock.openings)], BARE, side / 800)]
    marks = [mark.turned(turn) for mark in plan.marks]
    body += _plates(found, turn, side, marks, text=asked.text)
    body += [chain_line(_lines(m), SCRIBE_INK, side / 1600) for m in marks if len(m.path) > 1]
    body += _cuts(plan, turn, side, order=asked.order)
    sides = sorted((shape[2] - shape[0], shape[3] - shape[1]), reverse=True)
    kind = f"{found.nest.stock.text(unit)}, " if found.nest.stock else ""
    size = side / 90
    body.append(label(ON_PAPER, (box[0] + box[2]) / 2, box[1] - 1.6 * size, size))
    box = (box[0], box[1] - 2.6 * size, box[2], box[3])
    title = f"{kind}{' x '.join(shown(s, unit) for s in sides)} {unit}, sheet {found.number}"
    return svg(body, box, title, side / (50 if near else 100))


def _used(found: SheetPlan, *, upright: bool) -> Box:
    """Return the part of a sheet's box that is used, and a little beyond."""
    x0, y0, x1, y1 = found.nest.sheet(found.sheet).outline.box
    long = found.used.length * (1 + BEYOND)
    return (x0, y0, x1, min(y1, y0 + long)) if upright else (x0, y0, min(x1, x0 + long), y1)


def _plates(
    found: SheetPlan, turn: float, side: float, marks: Sequence[Mark], *, text: bool
) -> Iterator[str]:
    taken = [box_of(mark.path) for mark in marks]
    texts = [mark.path[0] for mark in marks if text and mark.kind == "scribe"]
    for name, outlines in found.nest.placed(found.sheet, found.number):
        lying = [o.turned(turn) for o in outlines]
        yield path(lying, METAL, side / 1200)
        x0, y0, x1, y1 = lying[-1].box
        if any(is_inside(at, lying[-1]) for at in texts):
            continue
        here = [b for b in taken if b[0] < x1 and b[2] > x0 and b[1] < y1 and b[3] > y0]
        yield from name_inside(name, lying, side / 70, here)


def _lines(mark: Mark) -> Chain:
    return tuple(Segment(*a, *b) for a, b in pairwise(mark.path))


def _cuts(plan: Plan, turn: float, side: float, *, order: bool) -> Iterator[str]:
    """Yield leads, pierces, micro-joints and numbers."""
    for number, cut in enumerate(plan.cuts, 1):
        for run in cut.passes:
            for lead in (run.lead_in, run.lead_out):
                if lead:
                    yield chain_line(_turned(lead, turn), LEAD_INK, side / 1000)
            if run.lead_in or order:
                yield dot(_turned(run.chain, turn)[0].start, side / 500, LEAD_INK)
        if cut.is_held:
            yield from _joints(cut, turn, side)
        if order:
            yield _number(number, cut, turn, min(side / 90, TALLEST))


def _joints(cut: Cut, turn: float, side: float) -> Iterator[str]:
    """Yield a thick line across each gap that a micro-joint leaves."""
    ends = zip(cut.passes, (*cut.passes[1:], cut.passes[0]), strict=True)
    for before, after in ends:
        gap = Segment(*before.run[-1].end, *after.run[0].start)
        yield chain_line(_turned((gap,), turn), JOINT_INK, side / 250)


def _number(number: int, cut: Cut, turn: float, size: float) -> str:
    """Return a cut's number: in scrap beside the pierce, or right of too small an opening."""
    first = cut.passes[0]
    at, (ux, uy) = first.chain[0].start, first.run[0].direction(0.0)
    x0, y0, x1, y1 = cut.loop.nominal.turned(turn).box
    if cut.loop.inside and min(x1 - x0, y1 - y0) < ROOM * size:
        return label(str(number), x1 + 0.7 * size, (y0 + y1) / 2, size)
    side = 1 if cut.loop.inside != cut.clockwise else -1  # scrap on the left, or on the right
    x, y = at[0] - 0.9 * side * size * uy, at[1] + 0.9 * side * size * ux
    spot = Segment(x, y, x + 1, y)
    return label(str(number), *_turned((spot,), turn)[0].start, size)


def _turned(chain: Chain, turn: float) -> Chain:
    """Return a chain turned about (0, 0)."""
    if not turn:
        return tuple(chain)
    ends = Mark("scribe", tuple(p for s in chain for p in (s.start, s.end))).turned(turn).path
    pairs = zip(ends[::2], ends[1::2], chain, strict=True)
    return tuple(Segment(*a, *b, s.bulge) for a, b, s in pairs)
