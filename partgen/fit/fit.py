"""The sum across the vehicle: rail, spacers, ears, joint.

gap = joint width + side clearance + coating on both ear faces; the spacers make up gap - rail
width, from the plates in the rack. A rail wider than that gets no spacer but a list of ways out
(common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations_with_replacement
from math import fsum

from partgen.entries.stock import Stock
from partgen.measure import shown

LARGEST_SHIFT = 25.4 / 16  # mm the joint may sit off its wanted place; common practice, no source
LOOSE = 25.4 / 16  # mm of clearance beyond the wanted one before shims are asked for; likewise
SLACK = 1e-6  # mm
STACK_SHIM = 25.4 / 8  # mm; thickest shim beside a stacked spacer; common practice, no source
MOST_OPTIONS = 20  # ways to fill a gap that are kept
MOST_STACKED = 20  # thicknesses of the rack that stacks are made of

Pad = tuple[Stock, ...]  # the plates of one spacer; none, one, or several stacked


@dataclass(frozen=True)
class Fit:
    """Rail, spacers and joint between two ears.

    Attributes:
        rail_width: outside width of the rail [mm].
        joint_width: face to face of what the bolt clamps, as measured [mm].
        side_clearance: wanted between joint and ears, both sides together, before welding [mm].
        inner: plates of the spacer on the rail's inner face.
        outer: plates of the spacer on the rail's outer face.
        coating: paint or powder on each face beside the joint [mm].
        pull_in: how much welding is expected to close the gap at the bolt, both ears [mm].
        wanted_shift: how far the joint should sit off the rail's centre, outward positive [mm].
    """

    rail_width: float
    joint_width: float
    side_clearance: float
    inner: Pad = ()
    outer: Pad = ()
    coating: float = 0.0
    pull_in: float = 0.0
    wanted_shift: float = 0.0

    @property
    def need(self) -> float:
        """Thickness the spacers have to make up, both sides together [mm]."""
        return self.joint_width + self.side_clearance + 2 * self.coating - self.rail_width

    @property
    def spacers(self) -> tuple[float, float]:
        """Thickness on the inner and on the outer face [mm]."""
        return thickness(self.inner), thickness(self.outer)

    @property
    def gap(self) -> float:
        """Clear distance between the two ears, before welding and coating [mm]."""
        return self.rail_width + fsum(self.spacers)

    @property
    def clearance(self) -> float:
        """What is left between joint and ears before welding, both sides together [mm]."""
        return self.gap - self.joint_width

    @property
    def excess(self) -> float:
        """Clearance beyond the wanted one and the coating; negative if it is short [mm]."""
        return self.clearance - self.side_clearance - 2 * self.coating

    @property
    def shim(self) -> float:
        """Shim on each side, where more than ``LOOSE`` beyond the wanted is left at last [mm]."""
        over = self.excess - self.pull_in
        return over / 2 if over > LOOSE + SLACK else 0.0

    @property
    def final_clearance(self) -> float:
        """What is left after welding and coating, shims in; negative: it does not go in [mm]."""
        return self.clearance - 2 * self.coating - self.pull_in - 2 * self.shim

    @property
    def dummy_length(self) -> float:
        """Length of the dummy spacer that holds the ears apart, shims beside it [mm].

        Joint + clearance (+ coating): what the gap must still be when the weld is cold.
        """
        return self.gap - 2 * self.shim

    @property
    def shift(self) -> float:
        """How far the joint sits off the rail's centre, outward positive [mm]."""
        return (self.spacers[1] - self.spacers[0]) / 2

    @property
    def off(self) -> float:
        """How far the joint sits from where it is wanted [mm]."""
        return abs(self.shift - self.wanted_shift)

    def ways_out(self, unit: str) -> list[str]:
        """Return what can be done where the rail is wider than the joint needs, else nothing."""
        if self.need >= -SLACK:
            return []
        wide, each = shown(-self.need, unit), shown(-self.need / 2, unit)
        return [
            f"washers or bosses of {each} {unit} inside each ear",
            f"a joint (or its end spacers) {wide} {unit} wider",
            "inboard ear plates welded to a crossplate between the rail plates",
            "ear plates moved to the underside of the rail",
        ]


def thickness(pad: Pad) -> float:
    """Return the thickness of a spacer's plates together [mm]."""
    return fsum(plate.thickness for plate in pad)


def pad_text(pad: Pad, unit: str) -> str:
    """Return a spacer's plates as they are ordered: "3 mm S355 + 2 mm S355", or "none"."""
    return " + ".join(plate.text(unit) for plate in pad) or "none"


def fit_options(
    rail_width: float,
    joint_width: float,
    side_clearance: float,
    rack: Sequence[Stock],
    *,
    coating: float = 0.0,
    pull_in: float = 0.0,
    shift: float = 0.0,
    most_plates: int = 2,
) -> list[Fit]:
    """Return ways to fill the gap from the rack, best first, at most ``MOST_OPTIONS``.

    A pair of equal spacers, or one spacer on the outer face where it shifts the joint by no more
    than ``LARGEST_SHIFT``; with a ``shift``, spacers of different thickness too. First come those
    that leave the wanted clearance: where the joint should sit before elsewhere, without shims
    before with, single plates before stacked ones, the least excess first. Then those that fall
    short, the least short first. A stack that would need shims over ``STACK_SHIM`` is left out.

    Args:
        rail_width: outside width of the rail [mm].
        joint_width: face to face of what the bolt clamps [mm].
        side_clearance: wanted between joint and ears, both sides together [mm].
        rack: plates that spacers can be cut from.
        coating: on each face beside the joint [mm].
        pull_in: how much welding closes the gap, both ears together [mm].
        shift: how far outward of the rail's centre the joint should sit [mm].
        most_plates: of one spacer, 1 or 2.
    """
    bare = Fit(
        rail_width,
        joint_width,
        side_clearance,
        coating=coating,
        pull_in=pull_in,
        wanted_shift=shift,
    )
    if bare.need <= SLACK and abs(shift) <= SLACK:
        return [bare]
    pads = _pads(rack, most_plates)
    fits = [bare, *(replace(bare, inner=pad, outer=pad) for pad in pads)]
    if abs(shift) > SLACK:
        fits += [replace(bare, inner=a, outer=b) for a, b in _unequal(pads, shift)]
    else:
        fits += [
            replace(bare, outer=pad)
            for pad in pads
            if len(pad) == 1 and thickness(pad) / 2 <= LARGEST_SHIFT + SLACK
        ]
    fits = [fit for fit in fits if not (_stacked(fit) and fit.shim > STACK_SHIM + SLACK)]
    return sorted(fits, key=_rank)[:MOST_OPTIONS]


def _pads(rack: Sequence[Stock], most_plates: int) -> list[Pad]:
    """Return the spacers the rack can give, single plates first."""
    pads: list[Pad] = [(stock,) for stock in rack]
    if most_plates > 1:
        first_of: dict[float, Stock] = {}
        for stock in rack:
            first_of.setdefault(stock.thickness, stock)
        few = list(first_of.values())[:MOST_STACKED]
        pads += [
            (max(a, b), min(a, b))
            for a, b in combinations_with_replacement(few, 2)
            if a.grade == b.grade
        ]
    return pads


def _unequal(pads: Sequence[Pad], shift: float) -> Iterator[tuple[Pad, Pad]]:
    """Yield pairs of different spacers that put the joint about where it is wanted."""
    sides: list[Pad] = [(), *{thickness(pad): pad for pad in reversed(pads)}.values()]
    for inner in sides:
        for outer in sides:
            moved = (thickness(outer) - thickness(inner)) / 2
            if inner != outer and abs(moved - shift) <= LARGEST_SHIFT + SLACK:
                yield inner, outer


def _rank(fit: Fit) -> tuple[bool, bool, bool, int, float, float]:
    short = fit.excess < -SLACK or fit.final_clearance < -SLACK
    misplaced = fit.off > LARGEST_SHIFT + SLACK
    least, stacked = -fit.excess if short else fit.excess, 0 if short else _stacked(fit)
    return short, misplaced, bool(fit.shim), stacked, round(least, 6), fit.off


def _stacked(fit: Fit) -> int:
    """Return how many plates lie on another one of their spacer."""
    return sum(max(0, len(pad) - 1) for pad in (fit.inner, fit.outer))
