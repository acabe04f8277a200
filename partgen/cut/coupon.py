r"""Coupon: a test piece for kerf, hole error and slot fit, and the sums that read it back.

     ____________________________________________
    |  o   O   (  )   |window|                   |   holes: three sizes
    |  || || || || || || || (slot ladder)        |   slots: thickness - 0.2 .. + 1.2 mm
    |____________________________________________|   and two loose squares

The DXF is nominal and is cut with no kerf set anywhere. An outside size then comes out a kerf too
small, an inside size a kerf too large; a round hole besides smaller by the hole error. The kerf is
the least-squares mean of all straight sizes, the hole error what the holes lack of it. The slot
clearance is what the narrowest slot that takes the plate, as cut, is wider than the plate.
"""

from __future__ import annotations

from dataclasses import dataclass
from statistics import fmean
from typing import Literal

from partgen.cut.loop import Lying
from partgen.cut.strokes import strokes
from partgen.geometry.belt import rectangle
from partgen.geometry.outline import Outline
from partgen.plates.plate import Mark

Kind = Literal["outside", "inside", "hole", "slot"]
SQUARES = (30.0, 50.0)  # mm
HOLES = (12.0, 18.0, 25.0)  # mm
WINDOW = (40.0, 25.0)  # mm
LADDER = 8  # slots
RUNG = 0.2  # mm from slot to slot
FIRST = -2  # rungs: where the ladder begins, as drawn, from the plate's thickness less a kerf
SLOT = 30.0  # mm, length of a slot
CORNER = 2.0  # mm
SPREAD = 0.5  # mm; a size further than this from the kerf of the others is read again
AROUND = 12.0  # mm of metal between cuts


@dataclass(frozen=True)
class Size:
    """One size of the coupon.

    Attributes:
        name: what the form calls it.
        kind: "outside", "inside", "hole" or "slot".
        nominal: as drawn [mm].
        measured: as cut; None if it was not measured [mm].
    """

    name: str
    kind: Kind
    nominal: float
    measured: float | None = None


@dataclass(frozen=True)
class Result:
    """What a coupon says of the process.

    Attributes:
        kerf: width of the cut [mm].
        hole_error: how much smaller round holes come out than path and kerf say [mm].
        slot_clearance: how much wider than the plate a slot must come out; None if not tried [mm].
        suspects: sizes that do not agree with the others; measure them again.
    """

    kerf: float
    hole_error: float | None
    slot_clearance: float | None
    suspects: tuple[str, ...]


def sizes(thickness: float, kerf: float) -> list[Size]:
    """Return every size of the coupon, as drawn [mm].

    Args:
        thickness: of the plate it is cut from.
        kerf: expected; only tells where the slot ladder begins.
    """
    found = [Size(f"square-{a:g}", "outside", a) for a in SQUARES]
    found += [Size(f"hole-{d:g}", "hole", d) for d in HOLES]
    found += [Size("window-width", "inside", WINDOW[0]), Size("window-height", "inside", WINDOW[1])]
    least = max(thickness - kerf, 1.0)
    rungs = [round(least + (FIRST + k) * RUNG, 2) for k in range(LADDER)]
    return found + [Size(f"slot-{k}", "slot", w) for k, w in enumerate(rungs, 1) if w > 0.5]


def pieces(thickness: float, kerf: float) -> list[Lying]:
    """Return the coupon's plates where they lie: the plate with the openings, and two squares."""
    all_sizes = sizes(thickness, kerf)
    openings: list[tuple[str, Outline]] = []
    marks: list[Mark] = []
    x, y = AROUND, AROUND + max(HOLES[-1], WINDOW[1]) / 2
    for size in (s for s in all_sizes if s.kind == "hole"):
        openings.append((size.name, Outline.circle(x + size.nominal / 2, y, size.nominal)))
        x += size.nominal + AROUND
    window = rectangle(*WINDOW, CORNER, (x + WINDOW[0] / 2, y))
    openings.append(("window", window))
    wide = x + WINDOW[0] + AROUND
    x, y = AROUND, y + max(HOLES[-1], WINDOW[1]) / 2 + AROUND + SLOT / 2
    for size in (s for s in all_sizes if s.kind == "slot"):
        middle = x + size.nominal / 2
        radius = min(0.4 * size.nominal, CORNER)
        openings.append((size.name, rectangle(size.nominal, SLOT, radius, (middle, y))))
        marks += _text(size.name.removeprefix("slot-"), middle - 1.5, y + SLOT / 2 + 3.5)
        x += size.nominal + max(AROUND, 1.5 * thickness)
    wide, high = max(wide, x), y + SLOT / 2 + AROUND
    edge = rectangle(wide, high, CORNER, (wide / 2, high / 2))
    return [Lying("coupon", tuple(openings), edge, (), tuple(marks)), *_squares(wide)]


def _squares(wide: float) -> list[Lying]:
    found, y = [], 0.0
    for side in SQUARES:
        at = (wide + AROUND + side / 2, y + side / 2)
        found.append(Lying(f"square-{side:g}", (), rectangle(side, side, 0.0, at)))
        y += side + AROUND
    return found


def _text(text: str, x: float, y: float) -> list[Mark]:
    lines = strokes([text], 4.5)
    return [Mark("scribe", tuple((x + a, y + b) for a, b in line)) for line in lines]


def solved(measured: list[Size], thickness: float, fits: int | None) -> Result | None:
    """Return what the measured sizes say; None if no straight size was measured.

    Args:
        measured: the form's sizes.
        thickness: of the plate that was tried in the slots, measured [mm].
        fits: number of the narrowest slot that takes the plate, from 1; None if not tried.
    """
    known = [(s, s.measured) for s in measured if s.measured is not None]
    straight = {s.name: _widened(s, m) for s, m in known if s.kind != "hole"}
    if not straight:
        return None
    kerf = fmean(straight.values())
    holes = {s.name: kerf - _widened(s, m) for s, m in known if s.kind == "hole"}
    error = fmean(holes.values()) if holes else None
    clearance = None
    slot = next((s for s in measured if s.name == f"slot-{fits}"), None)
    if slot is not None:
        as_cut = slot.measured if slot.measured is not None else slot.nominal + kerf
        clearance = as_cut - thickness
    return Result(kerf, error, clearance, _suspects(straight, holes))


def _widened(size: Size, measured: float) -> float:
    """Return how much the cut took: the kerf, if the torch followed the line [mm]."""
    return size.nominal - measured if size.kind == "outside" else measured - size.nominal


def _suspects(straight: dict[str, float], holes: dict[str, float]) -> tuple[str, ...]:
    """Return the sizes that lie far from the mean of the others of their kind."""
    found = []
    for group in (straight, holes):
        for name, value in group.items():
            rest = [v for n, v in group.items() if n != name]
            if rest and abs(value - fmean(rest)) > SPREAD:
                found.append(name)
    return tuple(found)
