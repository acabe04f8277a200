"""Screening strength of mounts on the screen: the weakest link, or every mode."""

from __future__ import annotations

from partgen.cautions import LABEL, STRENGTH
from partgen.job.build import Build
from partgen.packet.screening import (
    MODE_HEAD,
    assumptions,
    mode_rows,
    unjudged_texts,
    weakest_texts,
)
from partgen.printing.text import table
from partgen.rules.screening import screen


def screening(build: Build, *, whole: bool) -> None:
    """Print the weakest link of each mount; ``whole``: every mode, clause and assumption too."""
    unit = build.job.unit
    for mount in build.mounts:
        found = screen(build, mount)
        if whole:
            rows = [(mount.name, *row) for row in mode_rows(found, unit)]
            table([("mount", *MODE_HEAD), *rows], numbers=range(3, 7))
            for text in assumptions(found, unit):
                print(f"  {text}")
        for text in weakest_texts(mount.name, found, unit):
            print(f"{LABEL}: {text}")
        for text in unjudged_texts(found):
            print(f"{LABEL}: {mount.name}, not covered, {text}")
    if build.mounts:
        print(STRENGTH if whole else f"{STRENGTH} All modes: check --strength.")
