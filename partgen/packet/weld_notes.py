"""Weld notes on the page: the leg asked for beside the least one of a published table, and habits.

Least leg: AISC 360-16 Table J2.4, by the thinner part joined; a rail's wall counts where the job
gives it and a plate lies on it without a pad. No figure here says that a weld is strong enough.
"""

from __future__ import annotations

from partgen.job.build import Build
from partgen.measure import shown
from partgen.packet.html import Html, bullets, section, table, tag
from partgen.rules.on_rail import on_rails
from partgen.strength.fillet_weld import need_leg

LEAST_LEG = "AISC 360-16 Table J2.4"
NOTES = (
    "Clean to bright metal 25 mm (1 in) either side of each weld line; grind zinc and paint back "
    "(common practice, no source).",
    "No weld across a flange or on the rail's corner radius; keep 19 mm (3/4 in) clear of a "
    "flange's edge (common practice, no source).",
    "On a frame rail stop the weld 6 mm (1/4 in) short of each end of the plate; where the local "
    "code asks for a weld all round, do that instead (common practice, no source).",
    "No weld on the ear where washer, head, nut and spanner go.",
    "Short runs, alternate sides and ends, let it cool between; rod and dummy stay in until cold. "
    "Welded on one side only, the ears pull in.",
    "A gap at the root over 1.6 mm (1/16 in): close it, or make the leg larger by the gap "
    "(from memory).",
    "Rails of heat-treated steel lose strength beside a weld: ask the maker before you weld.",
)


def weld_section(build: Build) -> Html:
    """Return the weld notes."""
    unit = build.job.unit
    rows = [
        (name, shown(leg, unit), shown(thinner, unit), _wall_text(build, name), least)
        for name, leg, thinner, least in legs(build)
    ]
    head = (
        "mount",
        f"leg asked {unit}",
        f"thinner part {unit}",
        f"rail's wall {unit}",
        "least leg for that part",
    )
    return section(
        "Weld notes",
        "weld",
        *([table(head, rows, (1, 2))] if rows else []),
        bullets(NOTES),
        tag(
            "p",
            "Screening only; a welder's procedure and your local code come first.",
            class_="source",
        ),
    )


def _wall_text(build: Build, name: str) -> str:
    """Return the wall of a mount's rail, or that the leg is by the plate."""
    wall = build.shop.rail(build.shop.mount(name).rail).wall
    return "not known: leg by the plate" if wall is None else shown(wall, build.job.unit)


def legs(build: Build) -> list[tuple[str, float, float, str]]:
    """Return name, leg [mm], thinner part [mm] and least leg in words, for each mount."""
    found = []
    asked = {piece.plate.part: piece.leg for piece in on_rails(build)}
    for mount in build.mounts:
        plates = [p.thickness for p in build.plates if p.part == mount.name]
        plates += [s for s in mount.fit.spacers if s]
        wall = build.shop.rail(mount.rail).wall if mount.rail else None
        plates += [wall] if wall is not None and plates else []
        if plates and asked.get(mount.name):
            found.append(
                (mount.name, asked[mount.name], min(plates), least_leg(min(plates), build))
            )
    return found


def least_leg(thinner: float, build: Build) -> str:
    """Return the table's least leg for the thinner part [mm], with its source."""
    unit = build.job.unit
    return f"{shown(need_leg(thinner, unit), unit)} {unit}, {LEAST_LEG}"
