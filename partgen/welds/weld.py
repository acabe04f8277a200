"""One weld of a job: a seam with its leg, its run and what to heed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import inf, radians

from partgen.geometry.chain import Chain, backwards, length, shortened
from partgen.geometry.saddle import FREE_GAP, MOST_GAP
from partgen.geometry.segment import Segment, closest
from partgen.plates.plate import Plate
from partgen.plates.seam import KEEP_OUT, Seam
from partgen.shop import Shop
from partgen.strength.fillet_weld import largest_leg, need_leg

ON = 0.01  # mm
BEND_KEEP = 5.0  # thicknesses beside a bend's curve; EN 1993-1-8 4.14, from memory


@dataclass(frozen=True, kw_only=True)
class Weld:
    """One mating edge, in the drawing of its plate and hand.

    Attributes:
        step: its place in the sequence, from 1.
        plate: label of the plate whose edge it is, or of the piece.
        key: of that plate, both hands alike.
        count: how many such edges there are.
        seam: the edge, drawn for the left.
        path: the whole mating edge [mm].
        run: the weld, its ends stopped short; empty if nothing is left [mm].
        leg: of the fillet; None where it is no fillet [mm].
        least: least leg by the table [mm].
        most: largest leg along the plate's edge; None where it does not lie along it [mm].
        flange: least distance to the rail's upper or lower edge; None off the rail [mm].
        notes: what to heed.
    """

    step: int = 0
    plate: str
    key: str
    count: int
    seam: Seam
    path: Chain
    run: Chain
    leg: float | None
    least: float
    most: float | None
    flange: float | None
    notes: tuple[str, ...]

    @property
    def edge_length(self) -> float:
        """Length of the mating edge, along what it is welded to [mm]."""
        return length(self.path) * self.seam.share

    @cached_property
    def length(self) -> float:
        """Length of one fillet, along what it is welded to [mm]."""
        return length(self.run) * self.seam.share

    @property
    def total(self) -> float:
        """Length of all its fillets on all its plates [mm]."""
        return self.length * self.seam.sides * self.count


def weld_of(seam: Seam, plate: Plate, pieces: int, shop: Shop) -> Weld:
    """Return the weld of a seam.

    Args:
        seam: the edge.
        plate: as drawn for the left.
        pieces: how many such edges there are.
        shop: the job.
    """
    thinner = min(plate.thickness, seam.beside or inf)
    least = need_leg(thinner, shop.unit)
    most = largest_leg(plate.thickness, shop.unit) if seam.lap else None
    leg, run, flange = _leg(seam, plate, thinner, most, shop), _run(seam), _flange(seam)
    notes = [*_about_leg(seam, leg, least, most), *_about_run(seam, run, leg)]
    notes += [*_about_flange(flange), *_about_bends(plate, run), *([seam.note] * bool(seam.note))]
    return Weld(
        plate=plate.label,
        key=plate.key,
        count=pieces,
        seam=seam,
        path=seam.path,
        run=run,
        leg=leg,
        least=least,
        most=most,
        flange=flange,
        notes=tuple(notes),
    )


def mirrored(chain: Chain) -> Chain:
    """Return a chain of the left-hand drawing in the right-hand one, metal on its left."""
    return tuple(Segment(-s.x1, s.y1, -s.x0, s.y0, s.bulge) for s in reversed(chain))


def _leg(seam: Seam, plate: Plate, thinner: float, most: float | None, shop: Shop) -> float | None:
    """Return the leg: asked or usual, no more than the edge takes, more over a wide gap [mm]."""
    if seam.kind != "fillet":
        return None
    usual = shop.usual_leg(thinner, plate.thickness if seam.lap else None)
    leg = usual if seam.leg is None else seam.leg
    if most is not None:
        leg = min(leg, most)
    return leg + seam.gap if FREE_GAP < seam.gap <= MOST_GAP else leg


def _run(seam: Seam) -> Chain:
    first, last = (stop / seam.share for stop in seam.stops)
    kept = shortened(seam.path, last) if last else seam.path
    return backwards(shortened(backwards(kept), first)) if first else kept


def _flange(seam: Seam) -> float | None:
    if seam.depth is None:
        return None
    chain = _run(seam) or seam.path
    return min(seam.depth(s.at(k / 4)) for s in chain for k in range(5))


def _about_leg(seam: Seam, leg: float | None, least: float, most: float | None) -> Iterator[str]:
    if leg is None:
        return
    if most is not None and seam.leg is not None and seam.leg > most + ON:
        yield f"leg {seam.leg:g} mm asked; along this edge no more than {most:g} mm"
    if seam.beside is not None and leg > seam.beside + max(seam.gap, 0) + ON:
        yield f"leg {leg:g} mm is more than what it is welded to is thick, {seam.beside:g} mm"
    if leg < least - ON:
        yield f"leg {leg:g} mm is under the table's {least:g} mm"
    if seam.gap > MOST_GAP:
        yield f"gap of {seam.gap:.1f} mm, more than a fillet may fill: bevel the edge"
    elif seam.gap > FREE_GAP:
        yield f"leg made larger by the gap, {seam.gap:.1f} mm"


def _about_run(seam: Seam, run: Chain, leg: float | None) -> Iterator[str]:
    long = length(run) * seam.share
    if not run:
        yield "nothing is left between its stops: not welded"
    elif leg is not None and long < 4 * leg - ON:
        yield f"{long:.1f} mm is under 4 legs ({4 * leg:g} mm): counts for less"


def _about_flange(flange: float | None) -> Iterator[str]:
    if flange is not None and flange < KEEP_OUT - ON:
        yield (
            f"{flange:.1f} mm from the rail's flange edge, keep {KEEP_OUT:g} mm off: raise "
            "the shelf or lower the height"
        )


def _about_bends(plate: Plate, run: Chain) -> Iterator[str]:
    """Yield what to say where a weld comes nearer to a bend than 5 thicknesses."""
    for bend in plate.bends:
        curve = radians(abs(bend.angle)) * (bend.radius + plate.thickness / 2) / 2
        lines = [Segment(*a, *b) for a, b in pairwise(bend.path)]
        away = min((closest(s, t)[0] for s in run for t in lines), default=inf) - curve
        keep = BEND_KEEP * plate.thickness
        if away < keep - ON:
            yield f"{max(away, 0):.1f} mm from a bend, keep {keep:g} mm off or bend it afterwards"
