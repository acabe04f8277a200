"""What stands on the plates of a job: ears with what belongs to them, each at its place."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from partgen.families.part import Part
from partgen.families.single_ear import SingleEar
from partgen.families.stands import Footing, Stands, both_on_one
from partgen.job.build import Build
from partgen.plates.solid import Solid

LIFT = 1.5  # steps off their plate, for ears that stand on one


@dataclass(frozen=True)
class Standing:
    """One ear or pair of ears at one place, and what belongs to it.

    Attributes:
        part: its name.
        copy: what tells it from the part's first place: " 2", " 1 right"; empty for that one.
        face: of the plate: "near" or "far".
        carrier: the placed plate it stands on.
        solids: its pieces, placed.
    """

    part: str
    copy: str
    face: str
    carrier: Solid
    solids: tuple[Solid, ...]


def stands_of(part: Part) -> Stands | None:
    """Return where a part stands on another one's plate, if it does."""
    return part.stands if isinstance(part, SingleEar) else None


def on_plate(
    build: Build, part: Part, carriers: Sequence[Solid], group: Callable[[Part], list[Solid]]
) -> Iterator[Standing]:
    """Yield the ears that stand on a part's plate, those of the other side mirrored.

    Args:
        build: the job's.
        part: whose plate it is.
        carriers: its placed pieces; none stands where there are none.
        group: returns a part's own pieces and what belongs to them, in its own space.
    """
    for child in build.job.parts:
        stands = stands_of(child)
        if stands is None or stands.on != part.name or not carriers:
            continue
        floor = build.shop.floor(part.name)
        twice = both_on_one(child.hands_in(build.shop), floor)
        own = group(child)
        for k, footing in enumerate(stands.footings):
            carrier = carriers[min(footing.piece, len(carriers)) - 1]
            placed = [_lifted(s.within(footing.on_plate(carrier)), footing, carrier) for s in own]
            copy = f" {k + 1}" if k else ""
            yield Standing(child.name, copy, footing.face, carrier, tuple(placed))
            if twice:
                at, way = carrier.frame.at((floor.middle, 0.0)), carrier.frame.u
                there = tuple(s.mirrored(at, way) for s in placed)
                yield Standing(child.name, f" {k + 1} right", footing.face, carrier, there)


def _lifted(solid: Solid, footing: Footing, carrier: Solid) -> Solid:
    """Return what stands on a plate, moving off it as well when all is pulled apart."""
    up = LIFT if footing.face == "near" else -LIFT
    x, y, z = (a + up * n for a, n in zip(solid.apart, carrier.frame.normal, strict=True))
    return replace(solid, apart=(x, y, z))
