"""From a job to everything it makes: mounts with their fits, plates in both hands."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TypeVar

from partgen.errors import GeometryError, PartgenError
from partgen.families.part import Part
from partgen.families.single_ear import SingleEar
from partgen.families.stands import floor_of
from partgen.fit.fit import Fit
from partgen.fit.mount import Mount
from partgen.job.brackets import surroundings
from partgen.job.job import Job
from partgen.linkage.study import study
from partgen.linkage.trimming import applied
from partgen.measure import in_unit
from partgen.plates.plate import Plate, Window, hands_of
from partgen.shop import Floor, Shop

MOST_EDGES = 30_000  # lines and arcs of all plates, both hands; a link-mount plate has 20
T = TypeVar("T")
Windows = tuple[Window, ...]
Cuts = dict[str, list[tuple[str, Windows]]]  # by plate: part that needs them, and openings


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

    @cached_property
    def by_part(self) -> dict[str, list[Plate]]:
        """Its plates by the part they are of, in the job's order."""
        found: dict[str, list[Plate]] = {part.name: [] for part in self.job.parts}
        for plate in self.plates:
            found[plate.part].append(plate)
        return found


def build(job: Job, fits: Mapping[str, Fit] | None = None) -> Build:
    """Return everything a job makes.

    Args:
        job: the job.
        fits: ways to fill the gap of mounts by name, where not the best one is to be made.

    Raises:
        PartgenError: parts that cannot exist, one line for each.
    """
    building = _Building(job)
    mounts = building.mounts(fits or {})
    shop = building.with_floors(replace(job.shop, mounts=mounts))
    cuts = building.cuts(shop)
    shop = replace(
        shop, cuts={key: tuple(w for _, ws in found for w in ws) for key, found in cuts.items()}
    )
    plates = building.plates(shop, cuts)
    shop, plates = building.linked(shop, plates)
    if building.problems:
        lines = dict.fromkeys(in_unit(line, job.unit) for line in building.problems)
        raise PartgenError(list(lines))
    return Build(job, shop, list(mounts.values()), plates)


@dataclass
class _Building:
    """The steps of a build, and every problem on the way.

    Attributes:
        job: the job.
        problems: one line for each thing that cannot exist.
        broken: names of the parts they are in.
    """

    job: Job
    problems: list[str] = field(default_factory=list)
    broken: set[str] = field(default_factory=set)

    def mounts(self, fits: Mapping[str, Fit]) -> dict[str, Mount]:
        """Return the link mounts by name; what stands on another mount is worked out after it."""
        found: dict[str, Mount] = {}
        shop = replace(self.job.shop, mounts=found)
        for part in sorted(self.job.parts, key=lambda part: hasattr(part, "mount")):
            mount = self._attempt(part, lambda part=part: part.as_mount(shop), None)  # type: ignore[misc]
            if mount is not None:
                own = fits.get(part.name)
                found[part.name] = replace(mount, fits=[own, *mount.fits]) if own else mount
        return {part.name: found[part.name] for part in self.job.parts if part.name in found}

    def with_floors(self, shop: Shop) -> Shop:
        """Return the shop with the plates that ears stand on."""
        ears = [p for p in self.job.parts if isinstance(p, SingleEar)]
        named = {ear.stands.on for ear in ears if ear.stands is not None}
        floors: dict[str, Floor] = {}
        for part in self.job.parts:
            if part.name in named:
                floor = self._attempt(part, lambda part=part: _floor(part, shop), None)  # type: ignore[misc]
                floors |= {part.name: floor} if floor else {}
        return replace(shop, floors=floors)

    def cuts(self, shop: Shop) -> Cuts:
        """Return the openings that parts need in other parts' plates."""
        found: Cuts = {}
        for part in self.job.parts:
            wanted = self._attempt(part, lambda part=part: part.cuts(shop), dict[str, Windows]())  # type: ignore[misc]
            for key, windows in wanted.items():
                found.setdefault(key, []).append((part.name, windows))
        return found

    def plates(self, shop: Shop, cuts: Cuts) -> list[Plate]:
        """Return every plate, both hands."""
        found: list[Plate] = []
        made = edges = 0
        for part in self.job.parts:
            found += self._attempt(part, lambda part=part: _both_hands(part, shop), [])  # type: ignore[misc]
            edges += sum(len(o.segments) for p in found[made:] for o in p.outlines)
            made = len(found)
            if edges > MOST_EDGES:
                self.problems.append(
                    f"{self.job.path.name}: its plates have more than {MOST_EDGES} lines and arcs, "
                    f'counted up to part "{part.name}": make it several jobs'
                )
                break
        if not self.problems:
            self.problems += _cut_nowhere(self.job, found, cuts)
        return found

    def linked(self, shop: Shop, plates: list[Plate]) -> tuple[Shop, list[Plate]]:
        """Return shop and plates with what the links of the job say of them."""
        if self.job.linkage is None or self.problems:
            return shop, plates
        try:
            found = study(self.job.linkage, surroundings(self.job, shop, plates))
            return replace(shop, linkage=found), applied(plates, found.trims)
        except GeometryError as error:
            self.problems += [f"{self.job.path.name}: linkage: {p}" for p in error.problems]
            return shop, plates

    def _attempt(self, part: Part, work: Callable[[], T], otherwise: T) -> T:
        try:
            return work()
        except GeometryError as error:
            self.broken.add(part.name)
            name, mount = self.job.path.name, getattr(part, "mount", None)
            if mount not in self.broken:  # else it only follows from what is wrong there
                self.problems += [f'{name}: part "{part.name}": {p}' for p in error.problems]
            return otherwise


def _floor(part: Part, shop: Shop) -> Floor:
    return floor_of(part.plates(shop), part.hands_in(shop))


def _both_hands(part: Part, shop: Shop) -> list[Plate]:
    return [p for plate in part.finished(shop) for p in hands_of(plate, part.hands_in(shop))]


def _cut_nowhere(job: Job, plates: list[Plate], cuts: Cuts) -> list[str]:
    keys = {plate.key for plate in plates}
    return [
        f'{job.path.name}: part "{name}" needs openings in {key}, a plate that is not made'
        for key, wanted in cuts.items()
        if key not in keys
        for name, _ in wanted
    ]
