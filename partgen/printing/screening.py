"""Screening strength of mounts on the screen: the weakest link, or every mode."""

from __future__ import annotations

from partgen.build import Build
from partgen.measure import in_unit, shown_force
from partgen.mount import Mount
from partgen.printing.text import table
from partgen.rules.screened import Screened
from partgen.rules.screening import screen, weakest
from partgen.strength.capacity import LABEL

WORDS = (
    "Screening only, no figure to rely on: fatigue, shock, heat and weld quality are not judged. "
    "Forces are reduced strengths as a force at the joint, worst direction."
)


def screening(build: Build, *, whole: bool) -> None:
    """Print the weakest link of each mount; ``whole``: every mode, clause and assumption too."""
    for mount in build.mounts:
        found = screen(build, mount)
        if whole:
            _modes(mount, found, build.job.unit)
        for side, words in ((False, "in the plates' plane"), (True, "along the bolt")):
            worst = weakest(found, side=side)
            if worst is not None and worst.capacity is not None:
                force = shown_force(worst.at_joint, build.job.unit)
                print(
                    f"{LABEL}: weakest link of {mount.name} {words}: {worst.mode}, {worst.plate}, "
                    f"{force} ({worst.capacity.clause})"
                )
        _open_ends(mount, found)
    if build.mounts:
        print(WORDS if whole else f"{WORDS} All modes: check --strength.")


def _modes(mount: Mount, found: list[Screened], unit: str) -> None:
    rows: list[tuple[str, ...]] = [
        ("mount", "plate", "mode", "nominal", "reduced", "allowable", "at joint", "clause")
    ]
    for s in found:
        c = s.capacity
        if c is not None:
            allowable = "-" if c.allowable is None else shown_force(c.allowable, unit)
            forces = (shown_force(v, unit) for v in (c.nominal, c.design))
            at_joint = shown_force(s.at_joint, unit)
            rows.append((mount.name, s.plate, s.mode, *forces, allowable, at_joint, c.clause))
    table(rows, numbers=range(3, 7))
    texts = dict.fromkeys(f"{s.mode}: {s.capacity.assumptions}" for s in found if s.capacity)
    for text in texts:
        print(f"  {in_unit(text, unit)}")


def _open_ends(mount: Mount, found: list[Screened]) -> None:
    reasons: dict[str, None] = dict.fromkeys(
        f"{s.mode}: {s.why_not}" for s in found if s.capacity is None
    )
    for reason in reasons:
        print(f"{LABEL}: {mount.name}, not covered, {reason}")
