"""How long a search may go on: so many steps, or so many seconds, and who hears how far it is."""

from __future__ import annotations

import time
from collections.abc import Callable

ITEMS_A_STEP = 20  # placing so many items anew counts as one step
Progress = Callable[[float], None]


class Budget:
    """Steps or seconds that can be used up.

    Args:
        steps: how many steps; the same input then gives the same layout.
        seconds: if given, how long instead; two runs may then differ [s].
        progress: called with the used length when it changes [mm].
    """

    def __init__(
        self, steps: int, seconds: float | None = None, progress: Progress | None = None
    ) -> None:
        self._steps = steps
        self._begin = time.monotonic()
        self._end = None if seconds is None else self._begin + seconds
        self._progress = progress
        self._told: float | None = None
        self._enough: Callable[[float], bool] | None = None
        self.offset = 0.0

    def step(self, items: int = 1) -> bool:
        """Use up a step, or as many as placing ``items`` counts; return whether it was there."""
        if self._end is not None:
            return not self.is_over
        self._steps -= max(1, items // ITEMS_A_STEP)
        return self._steps >= 0

    def is_below(self, steps: int) -> bool:
        """Tell whether it is a budget of fewer steps than this."""
        return self._end is None and self._steps < steps

    @property
    def is_over(self) -> bool:
        """Whether the time is up; a budget of steps is asked between steps only."""
        if self._end is None:
            return False
        if time.monotonic() >= self._end:
            return True
        return self._enough is not None and self._told is not None and self._enough(self._told)

    @property
    def seconds_spent(self) -> float:
        """Time since it was given [s]."""
        return time.monotonic() - self._begin

    @property
    def seconds_left(self) -> float:
        """Time left; none for a budget of steps [s]."""
        return 0.0 if self._end is None else self._end - time.monotonic()

    def allows(self, seconds: float) -> bool:
        """Tell whether there is time for something that takes so long; steps take none [s]."""
        return self._end is None or self.seconds_left >= seconds

    def part(self, share: float) -> Budget:
        """Return a budget of ``share`` of what is left; used apart from this one."""
        part = Budget(0, None, self._progress)
        part.offset, part._told, part._enough = self.offset, self._told, self._enough
        if self._end is None:
            part._steps = round(self._steps * share)
            self._steps -= part._steps
        else:
            now = time.monotonic()
            part._end = now + share * (self._end - now)
        return part

    def until(self, enough: Callable[[float], bool]) -> Budget:
        """Return a budget of the same time, also over when ``enough`` says so of what was told."""
        same = self.part(1.0)
        same._enough = enough
        return same

    def quiet(self) -> Budget:
        """Return a budget of the same time that tells nobody."""
        same = self.part(1.0)
        same._progress = None
        return same

    def report(self, length: float) -> None:
        """Tell the used length on the sheet being worked on, if it has changed [mm]."""
        if length != self._told:
            self._told = length
            if self._progress is not None:
                self._progress(length + self.offset)
