"""From a job to everything it makes: mounts with their fits, plates in both hands."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from partgen.errors import GeometryError, PartgenError
from partgen.families.part import MountedPart, Part
from partgen.fit import Fit
from partgen.job import Job
from partgen.linkage.mount_swing import Surroundings
from partgen.linkage.obstacle import Obstacle
from partgen.linkage.study import study
from partgen.linkage.trimming import applied
from partgen.measure import in_unit
from partgen.mount import Mount
from partgen.plate import Plate, hands_of
from partgen.segment import Segment
from partgen.shop import Shop

T = TypeVar("T")


@dataclass(frozen=True)
class Build:
    """What a job makes.

    Attributes:
        job: the job.
        shop: the job's rails, joints and rules, with its mounts.
        mounts: link mounts in the job's order.
        plates: every plate to cut, both hands, in the job's order.
    """

    job: Job
    shop: Shop
    mounts: list[Mount]
    plates: list[Plate]


def build(job: Job, fits: Mapping[str, Fit] | None = None) -> Build:
    """Return everything a job makes.

    Args:
        job: the job.
        fits: ways to fill the gap of mounts by name, where not the best one is to be made.

    Raises:
        PartgenError: parts that cannot exist, one line for each.
    """
    problems: list[str] = []

    def attempt(part: Part, work: Callable[[], T], otherwise: T) -> T:
        try:
            return work()
        except GeometryError as error:
            problems.extend(f'{job.path.name}: part "{part.name}": {p}' for p in error.problems)
            return otherwise

    mounts: dict[str, Mount] = {}
    for part in job.parts:
        mount = attempt(part, lambda part=part: part.as_mount(job.shop), None)  # type: ignore[misc]
        if mount is not None:
            own = (fits or {}).get(part.name)
            mounts[part.name] = replace(mount, fits=[own, *mount.fits]) if own else mount
    shop = replace(job.shop, mounts=mounts)
    plates: list[Plate] = []
    for part in job.parts:
        plates += attempt(part, lambda part=part: _both_hands(part, shop), [])  # type: ignore[misc]
    if job.linkage is not None and not problems:
        try:
            found = study(job.linkage, _surroundings(job, shop, plates))
            shop, plates = replace(shop, linkage=found), applied(plates, found.trims)
        except GeometryError as error:
            problems += [f"{job.path.name}: linkage: {p}" for p in error.problems]
    if problems:
        lines = dict.fromkeys(in_unit(line, job.unit) for line in problems)
        raise PartgenError(list(lines))
    return Build(job, shop, list(mounts.values()), plates)


def _both_hands(part: Part, shop: Shop) -> list[Plate]:
    plates = part.finished(shop)
    return [piece for plate in plates for piece in hands_of(plate, part.hands_in(shop))]


def _surroundings(job: Job, shop: Shop, plates: list[Plate]) -> Surroundings:
    """Return what the links of a job move among.

    A part in a mount's gap is in the way where it has a place; else it is asked for by name.
    """
    beside: dict[str, list[str]] = {}
    placed: dict[str, list[Obstacle]] = {}
    for part in job.parts:
        if not isinstance(part, MountedPart) or not part.mount or part.family == "spacer":
            continue
        solids = part.solids(shop) if part.place else []
        if not solids:
            beside.setdefault(part.mount, []).append(part.name)
        for solid in solids:
            (x0, _, z0), (x1, _, z1) = solid.box
            edge = Segment((x0 + x1) / 2, z1, (x0 + x1) / 2, z0)
            placed.setdefault(part.mount, []).append(Obstacle(part.name, (edge,), (x1 - x0) / 2))
    return Surroundings(shop.mounts, shop.rails, shop.joints, plates, beside, placed)
