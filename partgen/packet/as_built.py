"""The as-built sheet: what the finished mount should measure, and blanks for what it does.

On the page for a pencil, and as ``as-built.csv`` to type into and have compared.

Tolerances are common practice, no source: a gap no narrower than the joint and no more than
1/16 in over the plan, places within 1/16 in, holes up to 0.4 mm over.
"""

from __future__ import annotations

from dataclasses import dataclass

from partgen.fit.fit import LOOSE
from partgen.fit.mount import Mount
from partgen.job.build import Build
from partgen.measure import per_unit, shown
from partgen.packet.html import Html, section, table, tag
from partgen.packet.tables import csv_bytes

PLACE = 25.4 / 16  # mm; common practice, no source
DIGITS = {"mm": 1, "in": 3}
HOLE_OVER = 0.4  # mm; common practice, no source


@dataclass(frozen=True)
class Target:
    """One line of the sheet.

    Attributes:
        what: to be measured, and where.
        value: as planned; None where it is a yes or a number the job does not hold [mm].
        low: least that passes [mm].
        high: greatest that passes [mm].
        words: what to look for where there is no value.
    """

    what: str
    value: float | None = None
    low: float | None = None
    high: float | None = None
    words: str = ""


HEAD = ("number", "what", "target", "least", "greatest", "look for", "measured")


def as_built_list(build: Build) -> bytes:
    """Return the sheet for a spreadsheet, its last column blank; the head names the unit."""
    unit = build.job.unit
    head = [f"{name} {unit}" if name in HEAD[2:5] else name for name in HEAD]
    return csv_bytes(
        head,
        (
            (k, t.what, *(_text(v, unit) for v in (t.value, t.low, t.high)), t.words, "")
            for k, t in enumerate(targets(build), 1)
        ),
    )


def targets(build: Build) -> list[Target]:
    """Return every line of the as-built sheet of a job."""
    found = [line for mount in build.mounts for line in _of_mount(mount)]
    holes = {(h.bolt.size, round(h.diameter, 4)): h.diameter for p in build.plates for h in p.holes}
    found += [
        Target(f"holes for {size}, as drilled", d, d, d + HOLE_OVER)
        for (size, _), d in holes.items()
    ]
    found += [
        Target("axle: left to right of one frame point", words="diagonals equal"),
        Target("ride height, pinion angle", words="as planned"),
    ]
    return found


def _of_mount(mount: Mount) -> list[Target]:
    hands = ("left", "right") if mount.hands == "both" else (mount.hands,)
    fit = mount.fit
    found = []
    for hand in hands:
        for number in range(1, mount.count + 1):
            name = f"{mount.name}, {hand}" + (f", {number}" if mount.count > 1 else "")
            gap = fit.gap, min(fit.joint_width, fit.gap), fit.gap + LOOSE
            found += [
                Target(f"{name}: gap at the bolt", *gap),
                Target(f"{name}: gap at the ears' tips", *gap),
                Target(
                    f"{name}: bolt centre off the {mount.sits_on}",
                    mount.room,
                    mount.room - PLACE,
                    mount.room + PLACE,
                ),
                Target(f"{name}: rod through both ears", words="slides by hand"),
                Target(f"{name}: joint and link", words="in by hand, swing free"),
            ]
    return found


def as_built_section(build: Build) -> Html:
    """Return the sheet."""
    unit = build.job.unit
    blank = tag("span", class_="blank")
    rows = [
        (t.what, _text(t.value, unit), t.words or _range(t, unit), blank, "☐")
        for t in targets(build)
    ]
    head = ("what", f"target {unit}", "passes", "measured", "ok")
    sign = ("Measured by ", tag("span", class_="blank wide"), " date ", blank)
    return section(
        "As-built sheet",
        "as-built",
        tag(
            "p",
            "Measure cold, before paint. Tolerances: common practice, no source; the joint's "
            "maker may ask for less. To have it compared, type into a copy of as-built.csv: "
            "partgen measure JOB --as-built FILE.",
        ),
        table(head, rows, (1,)),
        tag("p", *sign),
    )


def printed(value: float, unit: str) -> float:
    """Return a length as the sheet prints it: what the sheet says passes, passes [mm]."""
    return round(value / per_unit(unit), DIGITS[unit]) * per_unit(unit)


def _text(value: float | None, unit: str) -> str:
    return "" if value is None else shown(value, unit, DIGITS[unit])


def _range(target: Target, unit: str) -> str:
    if target.low is None:
        return ""
    return f"{_text(target.low, unit)} to {_text(target.high, unit)}"
