"""What is done at each hole: cut to size, cut as a pilot, or only marked for the drill."""

from __future__ import annotations

from typing import Literal

from partgen.fields import Entry, Text

Policy = Literal["cut", "pilot", "mark"]


class HolePolicy(Entry):
    """``[[hole]]``: what is done at holes of one plate, or of all plates of a part.

    Attributes:
        plate: ``front-mount/outer``, or ``front-mount`` for all plates of that part.
        hole: the hole's name in its plate: ``joint``.
        policy: "cut" to size, "pilot" a smaller cut to drill out, "mark" a drill centre only.
    """

    plate: Text
    hole: Text
    policy: Policy

    def concerns(self, plate: str, hole: str) -> bool:
        """Tell whether it is about a hole, by the plate's key and the hole's name."""
        return self.hole == hole and self.plate in (plate, plate.split("/")[0])
