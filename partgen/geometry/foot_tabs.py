"""Two tabs on the straight foot of an ear, and their slots in the plate it stands on, one way only.

One tab is twice as long as the other, and the inner ear's are spaced otherwise than the outer
ear's: an ear that is turned about, swapped for its neighbour, or of the other hand puts a tab on
metal wherever it is pushed. Slot width and length as in ``tab_slot``.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from partgen.errors import GeometryError
from partgen.geometry.outline import Outline, Vertex
from partgen.geometry.tab_slot import TabSlot

INNER = (-0.22, 0.20)  # middles of the long and the short tab, as parts of the foot
OUTER = (-0.26, 0.28)
LONG_PER_THICKNESS, SHORT_PER_THICKNESS = 4.0, 2.0  # common practice, no source
LONG_PER_FOOT, SHORT_PER_FOOT = 0.2, 0.1  # both less than a third of it; common practice, no source
SPARE = 1.0  # mm by which a wrong way misses, beyond all play


@dataclass(frozen=True)
class FootTabs:
    """The tabs of one foot.

    Attributes:
        long: the long one.
        short: the short one.
    """

    long: TabSlot
    short: TabSlot

    @classmethod
    def of(
        cls,
        places: tuple[float, float],
        foot: float,
        plate: float,
        *,
        thickest: float,
        tolerance: float,
        radius: float,
    ) -> FootTabs:
        """Return the tabs of a foot.

        Args:
            places: of the long and the short tab, ``INNER`` or ``OUTER``.
            foot: its length [mm].
            plate: nominal thickness of the ear [mm].
            thickest: greatest measured thickness of the ear [mm].
            tolerance: of one cut edge [mm].
            radius: of the slots' corners [mm].
        """
        long = min(LONG_PER_THICKNESS * plate, LONG_PER_FOOT * foot)
        short = min(SHORT_PER_THICKNESS * plate, SHORT_PER_FOOT * foot)
        made = [
            TabSlot((place * foot,), tab, thickest, tolerance, radius)
            for place, tab in zip(places, (long, short), strict=True)
        ]
        return cls(*made)

    @property
    def both(self) -> tuple[TabSlot, TabSlot]:
        """The long and the short one."""
        return self.long, self.short

    def slots(self) -> list[Outline]:
        """Return the slots, the foot along x about zero."""
        return [slot for tab in self.both for slot in tab.slots()]


def need_one_way(foot: float, tabs: FootTabs, relief: float, webs: tuple[float, float]) -> None:
    """Refuse a foot whose tabs are too alike to fit one way only, or have too little metal.

    Args:
        foot: its length [mm].
        tabs: on it.
        relief: radius of the relief beside each tab [mm].
        webs: least web of the ear and of the plate it stands on [mm].

    Raises:
        GeometryError: the message says how long the foot has to be.
    """
    long, short = tabs.both
    play = 2 * (long.tolerance + long.radius) + SPARE
    slots = (long.clear_length + short.clear_length) / 2 + 2 * long.radius
    ear = (long.tab + short.tab) / 2 + 4 * relief
    between = min(b - a for a, b in (INNER, OUTER))
    spread = abs((INNER[1] - INNER[0]) - (OUTER[1] - OUTER[0]))
    end = 0.5 - max(abs(OUTER[0]) + LONG_PER_FOOT / 2, OUTER[1] + SHORT_PER_FOOT / 2)
    least = max(
        play / spread,
        play / (LONG_PER_FOOT - SHORT_PER_FOOT),
        (slots + webs[1]) / between,
        (ear + webs[0]) / between,
        (2 * relief + webs[0]) / end,
    )
    if foot < least - 1e-9:
        raise GeometryError(
            f"the foot, {foot:g} mm long, is too short for tabs that fit one way only; it takes "
            f"{ceil(least)} mm, or smaller slot_radius, relief or cut_tolerance"
        )
    if long.tab - short.tab < play - 1e-9:
        raise GeometryError(
            f"tabs of {long.tab:.3g} and {short.tab:.3g} mm, by the plate's thickness, are "
            f"too alike to fit one way only: they need to differ by {play:.3g} mm; set smaller "
            "slot_radius or cut_tolerance"
        )


def with_tabs(outline: Outline, tabs: FootTabs, out: float, relief: float) -> Outline:
    """Return an outline with tabs on its straight foot at y = 0, reliefs beside them.

    Args:
        outline: with the foot.
        tabs: their middles count from the middle of the foot.
        out: how far they stand out of it [mm].
        relief: radius of the relief beside each tab [mm].

    Raises:
        GeometryError: there is no straight foot at y = 0, or a tab lies off it.
    """
    at, (x0, x1) = foot_of(outline)
    middle, chain = (x0 + x1) / 2, list[Vertex]()
    for tab in sorted(tabs.both, key=lambda t: t.middles):
        u, half = middle + tab.middles[0], tab.tab / 2
        if u - half - 2 * relief <= x0 or u + half + 2 * relief >= x1:
            raise GeometryError("a tab reaches the end of the foot; make the base longer")
        chain += _relief(u - half - 2 * relief, relief)
        chain += [Vertex(u - half, -out), Vertex(u + half, -out)]
        chain += _relief(u + half, relief)
    corners = outline.vertices
    return Outline.of([*corners[: at + 1], *chain, *corners[at + 1 :]])


def foot_of(outline: Outline) -> tuple[int, tuple[float, float]]:
    """Return which segment is the straight foot at y = 0, and where it begins and ends [mm].

    Raises:
        GeometryError: there is none.
    """
    for k, s in enumerate(outline.segments):
        if not s.bulge and abs(s.y0) < 1e-9 and abs(s.y1) < 1e-9 and s.x1 > s.x0:
            return k, (s.x0, s.x1)
    raise GeometryError("there is no straight foot at y = 0 to put tabs on")


def _relief(x: float, radius: float) -> list[Vertex]:
    """Return a notch with a round end, from ``x`` on along the foot."""
    wide = x + 2 * radius
    return [Vertex(x, 0.0), Vertex(x, radius, -1.0), Vertex(wide, radius), Vertex(wide, 0.0)]
