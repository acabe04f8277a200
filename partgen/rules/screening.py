"""Screening strength of mounts: every failure mode that the job's numbers allow, and the weakest.

Screening only: partgen adds up published formulas about the shapes it draws. It does not know
fatigue, shock, corrosion, heat-affected metal or how well a weld was made.

One ear takes half of a force in the plates' plane; a force along the bolt is taken by one ear
alone. A plate's weld is taken to run all along its edge on the rail. Without a load the direction
is the worst one for the metal round the hole.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial
from math import hypot

from partgen.entries.load import Load, StrengthEntry
from partgen.errors import PartgenError
from partgen.fit.bolting import BoltFit
from partgen.fit.mount import Mount
from partgen.geometry.segment import Point
from partgen.job.build import Build
from partgen.rules.ear import Ear, ears_of, unit
from partgen.rules.finding import SLACK
from partgen.rules.on_rail import on_rails
from partgen.rules.screen_metal import metal
from partgen.rules.screen_weld import WELD, bent, of_weld
from partgen.rules.screened import Screened, no_material, unjudged
from partgen.strength.bolt_grade import bolt_grade, nominal_class, stress_area
from partgen.strength.bolt_shear import Edition, en_bolt_shear, graded_bolt_shear
from partgen.strength.column import Tube, column
from partgen.strength.en_pin import Pin, pin_combined


def screen(build: Build, mount: Mount, load: Load | None = None) -> list[Screened]:
    """Return every failure mode of a mount, for a load's direction or the worst one.

    Args:
        build: the job's plates.
        mount: which mount.
        load: the user's force; None for capacities alone.
    """
    document, edition = build.shop.rule_set.strength
    found = [_bolt(build, mount, document, edition)]
    if document == "en":
        found += _bolt_as_pin(build, mount)
    on_rail = {piece.plate.key: piece for piece in on_rails(build, mount.name)}
    for ear in ears_of(mount, build.by_part[mount.name]):
        key = ear.plate.key
        piece = on_rail.get(key)
        works: list[tuple[str, Callable[[], Iterable[Screened]]]] = [
            ("metal round the hole", partial(_of_metal, build, mount, ear, load)),
            (WELD, partial(of_weld, ear, mount, piece, load, build.job.strength)),
            ("ear bent out of its plane", partial(bent, ear, mount, piece)),
        ]
        for mode, work in works:
            try:
                found += work()
            except PartgenError as error:
                found.append(unjudged(mount, key, mode, str(error).replace("\n", "; ")))
    return [*found, *_of_link(mount, load)]


def _of_metal(build: Build, mount: Mount, ear: Ear, load: Load | None) -> Iterator[Screened]:
    document, _ = build.shop.rule_set.strength
    found = metal(ear, mount, _in_plane(load), document, load, build.job.strength)
    for c in found:
        yield Screened(mount.name, ear.plate.key, c, 0.5, False, c.mode)
    if not found:
        yield unjudged(mount, ear.plate.key, "metal round the hole", no_material(ear.plate))


def weakest(found: list[Screened], *, side: bool = False) -> Screened | None:
    """Return the mode with the least force at the joint, in the plane or along the bolt."""
    judged = [s for s in found if s.capacity and s.side == side]
    return min(judged, key=lambda s: s.at_joint, default=None)


def _in_plane(load: Load | None) -> Point | None:
    """Return the unit direction of a load in the side view, None where it has none there."""
    if load is None:
        return None
    x, _, z = load.unit
    return unit((x, z)) if hypot(x, z) > SLACK else None


def _bolt(build: Build, mount: Mount, document: str, edition: str) -> Screened:
    asked = build.job.strength
    mode = "bolt shear, double"
    if asked.bolt_grade is None:
        why = "bolt_grade is not given; add it under [strength]"
        return unjudged(mount, mount.name, mode, why)
    inside = _threads_in(asked, mount.bolt_fit)
    try:
        if document == "en":
            capacity = en_bolt_shear(
                mount.bolt.diameter, stress_area(mount.bolt), asked.bolt_grade, 2, threads_in=inside
            )
        else:
            year: Edition = "2005" if edition == "2005" else "2016"
            grade = bolt_grade(asked.bolt_grade, mount.bolt)
            capacity = graded_bolt_shear(
                mount.bolt.diameter, grade, 2, threads_in=inside, edition=year
            )
    except PartgenError as error:
        return unjudged(mount, mount.name, mode, str(error))
    return Screened(mount.name, mount.name, capacity, 1.0, False, mode)


def _bolt_as_pin(build: Build, mount: Mount) -> Iterator[Screened]:
    """Yield the bolt in shear and bending together, as a pin that no clamping helps."""
    name, ears = build.job.strength.bolt_grade, ears_of(mount, build.by_part[mount.name])
    if name is None or not ears:
        return
    try:
        fub, fyb = nominal_class(name)
    except PartgenError:
        return  # bolt shear says why
    pin = Pin(
        diameter=mount.bolt.diameter,
        fy=fyb,
        fu=fub,
        outer=min(ear.plate.thickness for ear in ears),
        inner=mount.fit.joint_width,
        gap=max(mount.fit.clearance, 0.0) / 2,
    )
    capacity = pin_combined(pin)
    yield Screened(mount.name, mount.name, capacity, 1.0, False, capacity.mode)


def _threads_in(asked: StrengthEntry, fit: BoltFit | None) -> bool:
    """Tell whether a shear plane may meet thread; its run-out counts as thread."""
    if asked.threads is not None:
        return asked.threads == "in"
    return fit is None or not fit.body_clear_of_shear


def _of_link(mount: Mount, load: Load | None) -> Iterator[Screened]:
    """Yield the link in compression, if the load names one."""
    if load is None or load.link is None:
        return
    link = load.link
    tube = Tube(link.diameter, link.wall or link.diameter / 2)
    name = f"{mount.name}, link"
    pushed = column(tube, link.length, link.strength, link.ends)
    yield Screened(mount.name, name, pushed, 1.0, False, pushed.mode)
