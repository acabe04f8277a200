"""How long a layout is searched for, who hears of it, and what is known already."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from partgen.errors import PartgenError
from partgen.measure import shown
from partgen.sheets.known_layout import Known

LONGEST = 86_400.0  # s
SHORTEST = 0.01  # s; of a search that has to begin although the time is up
CHOOSING = 0.3  # of the time may go into which sheets to open
Told = Callable[[str], None]


@dataclass(frozen=True)
class Searching:
    """How sheets are laid out.

    Attributes:
        seconds: search this long; None: so many steps, same job same sheets [s].
        told: called with words on plate and used length when that changes.
        unit: of those words, "mm" or "in".
        known: layouts accepted before, by the digest of what they lay out.
        fresh: whether what was accepted before is passed over.
        once: whether the first layout will do, because the search was ended before.
        begun: when its seconds began, by ``time.monotonic``; None: not yet [s].
    """

    seconds: float | None = None
    told: Told | None = None
    unit: str = "mm"
    known: Mapping[str, Known] = field(default_factory=dict)
    fresh: bool = False
    once: bool = False
    begun: float | None = None

    def __post_init__(self) -> None:
        """Refuse a time that cannot be.

        Raises:
            PartgenError: seconds not above 0, or more than a day.
        """
        if self.seconds is not None and not 0 < self.seconds <= LONGEST:
            raise PartgenError(
                f"--seconds {self.seconds:g}: write a number above 0, up to {LONGEST:.0f}, as 20"
            )

    def progress(self, plate: str) -> Callable[[float], None] | None:
        """Return what tells the used length [mm] of sheets of a plate; None if nobody listens."""
        told, unit = self.told, self.unit
        if told is None:
            return None
        head = f"{plate}: " if plate else ""
        return lambda length: told(
            f"{head}{shown(length, unit, 1)} {unit} of sheet used; Ctrl-C keeps it"
        )

    def placing(self, plate: str) -> Callable[[int, int], None] | None:
        """Return what tells how many of a plate's pieces lie; None if nobody listens."""
        told = self.told
        if told is None:
            return None
        head = f"{plate}: " if plate else ""
        return lambda placed, count: told(f"{head}{placed} of {count} plates placed")

    def ended(self) -> Searching:
        """Return what is done for the sheets after an interrupt: one quick layout."""
        return replace(self, seconds=None, once=True)

    @property
    def left(self) -> float | None:
        """Time left, however late it is some; None for steps [s]."""
        if self.seconds is None or self.begun is None:
            return self.seconds
        return max(SHORTEST, self.seconds - (time.monotonic() - self.begun))

    def begin(self) -> Searching:
        """Return the same with its time running from now."""
        return replace(self, begun=time.monotonic())

    def share(self, part: float) -> Searching:
        """Return the same with a part of the time that is left, 0 to 1 [-], running from now."""
        left = self.left
        return self if left is None else replace(self, seconds=left * part).begin()

    def choice(self) -> Callable[[], bool]:
        """Return what tells whether the time is up for choosing sheets.

        Never for steps; at once after an interrupt.
        """
        if self.seconds is None:
            return lambda: self.once
        end = time.monotonic() + CHOOSING * (self.left or 0.0)
        return lambda: time.monotonic() >= end
