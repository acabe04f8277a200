"""Bolt holes and windows as a part's entry in the job file tells them."""

from __future__ import annotations

from collections.abc import Iterable

from partgen.entries.joint import BoltSize, HoleFit
from partgen.errors import GeometryError
from partgen.fields import Angle, At, Entry, Margin, Name, Size
from partgen.geometry.belt import rectangle
from partgen.plates.plate import Hole, Window

RE_ENTRANT = 10.0  # mm, radius of inside corners; common practice, no source


class WindowEntry(Entry):
    """A window with rounded corners.

    Attributes:
        at: centre [mm].
        size: width along x, height along y before turning [mm].
        radius: of its corners; at most half the smaller side [mm].
        angle: turned anticlockwise [degrees].
        name: shown in findings.
    """

    at: At
    size: tuple[Size, Size]
    radius: Margin = RE_ENTRANT
    angle: Angle = 0.0
    name: Name | None = None

    def window(self, number: int) -> Window:
        """Return the opening; ``number`` names it if it has no name.

        Raises:
            GeometryError: the corner radius does not fit.
        """
        name, most = self.name or str(number), min(self.size) / 2
        if self.radius > most:
            raise GeometryError(
                f"window {name}: radius = {self.radius:g} mm is more than half its smaller side; "
                f"give at most {most:g} mm"
            )
        outline = rectangle(*self.size, self.radius, self.at).turned(self.angle, self.at)
        return Window(name, outline)


class HoleEntry(Entry):
    """A bolt hole.

    Attributes:
        at: centre [mm].
        bolt: what goes through.
        fit: clearance, close, normal or loose; or a diameter [mm].
        name: shown in findings.
    """

    at: At
    bolt: BoltSize
    fit: HoleFit = "normal"
    name: Name | None = None

    def hole(self, number: int) -> Hole:
        """Return the opening; ``number`` names it if it has no name."""
        return Hole(self.name or str(number), *self.at, self.bolt.hole(self.fit), self.bolt)


def holes_of(entries: Iterable[HoleEntry]) -> tuple[Hole, ...]:
    """Return bolt holes, those without a name numbered from 1."""
    return tuple(entry.hole(number) for number, entry in enumerate(entries, 1))


def windows_of(entries: Iterable[WindowEntry]) -> tuple[Window, ...]:
    """Return windows, those without a name numbered from 1.

    Raises:
        GeometryError: a corner radius does not fit.
    """
    return tuple(entry.window(number) for number, entry in enumerate(entries, 1))
