"""One failure mode of one mount, as screened; screening only."""

from __future__ import annotations

from dataclasses import dataclass

from partgen.fit.mount import Mount
from partgen.plates.plate import Plate
from partgen.strength.capacity import Capacity


@dataclass(frozen=True)
class Screened:
    """One failure mode of one mount.

    Attributes:
        mount: name of the mount.
        plate: key of the plate, or the mount's name.
        capacity: what it carries; None where it cannot be judged.
        share: part of the joint's force that this mode has to carry [-].
        side: whether it is about force along the bolt.
        mode: how it fails.
        why_not: why there is no capacity.
    """

    mount: str
    plate: str
    capacity: Capacity | None
    share: float
    side: bool
    mode: str
    why_not: str = ""

    @property
    def at_joint(self) -> float:
        """Design strength as a force at the joint; infinite where not judged [N]."""
        return self.capacity.design / self.share if self.capacity else float("inf")


def unjudged(mount: Mount, plate: str, mode: str, why: str, *, side: bool = False) -> Screened:
    """Return a mode that cannot be judged, and why."""
    return Screened(mount.name, plate, None, 1.0, side, mode, why)


def no_material(plate: Plate) -> str:
    """Return why a plate's strength is not known."""
    return f"{plate.material.source.cite} prints no strength at {plate.thickness:g} mm"
