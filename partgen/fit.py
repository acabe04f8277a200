"""The sum across the vehicle: rail, spacers, ears, joint.

gap = joint width + side clearance; the spacers make up gap - rail width, from the plates in the
rack. A rail wider than that gets no spacer but a list of ways out (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from partgen.measure import shown
from partgen.stock import Stock

LARGEST_SHIFT = 25.4 / 16  # mm the joint may sit off the rail's centre; common practice, no source
LOOSE = 25.4 / 16  # mm of clearance beyond the wanted one before shims are asked for; likewise
SLACK = 1e-6  # mm


@dataclass(frozen=True)
class Fit:
    """Rail, spacers and joint between two ears.

    Attributes:
        rail_width: outside width of the rail [mm].
        joint_width: face to face of what the bolt clamps [mm].
        side_clearance: wanted between joint and ears, both sides together [mm].
        inner: spacer on the rail's inner face, or none.
        outer: spacer on the rail's outer face, or none.
    """

    rail_width: float
    joint_width: float
    side_clearance: float
    inner: Stock | None = None
    outer: Stock | None = None

    @property
    def need(self) -> float:
        """Thickness the spacers have to make up, both sides together [mm]."""
        return self.joint_width + self.side_clearance - self.rail_width

    @property
    def spacers(self) -> tuple[float, float]:
        """Thickness on the inner and on the outer face [mm]."""
        return (
            self.inner.thickness if self.inner else 0.0,
            self.outer.thickness if self.outer else 0.0,
        )

    @property
    def gap(self) -> float:
        """Clear distance between the two ears [mm]."""
        return self.rail_width + sum(self.spacers)

    @property
    def clearance(self) -> float:
        """What is left between joint and ears, both sides together [mm]."""
        return self.gap - self.joint_width

    @property
    def excess(self) -> float:
        """Clearance beyond the wanted one; negative if it is short [mm]."""
        return self.clearance - self.side_clearance

    @property
    def shim(self) -> float:
        """Shim on each side, where the clearance is more than ``LOOSE`` beyond the wanted [mm]."""
        return self.excess / 2 if self.excess > LOOSE + SLACK else 0.0

    @property
    def shift(self) -> float:
        """How far the joint sits off the rail's centre, outward positive [mm]."""
        return (self.spacers[1] - self.spacers[0]) / 2

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


def fit_options(
    rail_width: float, joint_width: float, side_clearance: float, rack: Sequence[Stock]
) -> list[Fit]:
    """Return every way to fill the gap from the rack, best first.

    A pair of equal spacers, or one spacer on the outer face where it shifts the joint by no more
    than ``LARGEST_SHIFT``. Those that leave the wanted clearance come first, the least excess
    first, a pair before a single one; then those that fall short, the least short first.

    Args:
        rail_width: outside width of the rail [mm].
        joint_width: face to face of what the bolt clamps [mm].
        side_clearance: wanted between joint and ears, both sides together [mm].
        rack: plates that spacers can be cut from.
    """
    bare = Fit(rail_width, joint_width, side_clearance)
    if bare.need <= SLACK:
        return [bare]
    pairs = [Fit(rail_width, joint_width, side_clearance, s, s) for s in rack]
    singles = [
        Fit(rail_width, joint_width, side_clearance, None, s)
        for s in rack
        if s.thickness / 2 <= LARGEST_SHIFT + SLACK
    ]
    return sorted([*pairs, *singles, bare], key=_rank)


def _rank(fit: Fit) -> tuple[bool, float, float]:
    return fit.excess < -SLACK, round(abs(fit.excess), 6), abs(fit.shift)
