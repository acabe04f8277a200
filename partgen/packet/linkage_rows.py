"""A linkage in words and rows, the same on the screen and on the page.

Lengths in the job's unit, angles in degrees; x forward, y left, z up (ISO 8855).
"""

from __future__ import annotations

from partgen.linkage.arm_centres import ArmCentres
from partgen.linkage.coped_end import coped_ends
from partgen.linkage.ends import EndStudy
from partgen.linkage.study import Study
from partgen.measure import in_unit, per_unit, shown

Rows = list[tuple[str, ...]]
ANGLES = "side and plan angles: axle end higher, or further out, positive; rear for lateral links"
BOLTS = "turned (from above), tilted (left end up): the bolt by so much leaves so much"


def held_text(study: Study) -> str:
    """Return what holds the axle, or each arm."""
    who = "axle" if study.entry.axle == "beam" else "each arm"
    return f"{who}: {study.holds[0].text}"


def binding_text(study: Study, unit: str) -> str:
    """Return what the links ask of rubber or metal; nothing where they all keep their length."""
    if not study.binds:
        return ""
    worst = shown(study.binds.misfit, unit, 2 if unit == "mm" else 3)
    return f"BINDS: rubber or metal must give {worst} {unit} at {study.binds.case.name}"


def centre_texts(study: Study, unit: str) -> list[str]:
    """Return the plan angles of triangulated links, and the centres at ride."""
    found = [
        f"links {name}: {angle:.1f} deg from left to right, seen from above"
        for name, angle in study.triangles.items()
        if angle > 0.05 and study.entry.axle == "beam"
    ]
    c = study.centres
    if c is None:
        return [*found, *_arm_texts(study.arm, unit)]
    if c.instant_centre is None:
        parts = ["side-view instant centre: none, the axle does not turn in heave"]
    else:
        x, z = (plain_length(v, unit) for v in c.instant_centre)
        parts = [f"side-view instant centre x {x}, z {z}"]
    if c.roll_centre is not None:
        parts.append(
            f"roll centre z {plain_length(c.roll_centre, unit)}, "
            f"roll axis {c.roll_axis_angle:+.2f} deg"
        )
    if c.anti_squat is not None:
        parts.append(f"anti-squat {100 * c.anti_squat:.0f} %")
    return [*found, f"at ride, for information: {'; '.join(parts)}"]


def _arm_texts(arm: ArmCentres | None, unit: str) -> list[str]:
    """Return the centres of the left wheel's arm."""
    if arm is None:
        return []
    parts = []
    for view, axis, at in (("side", "x", arm.side), ("rear", "y", arm.rear)):
        if at is None:
            parts.append(f"{view}-view instant centre: none, the wheel does not turn in this view")
        else:
            across, up = (plain_length(v, unit) for v in at)
            parts.append(f"{view}-view instant centre {axis} {across}, z {up}")
    if arm.roll_centre is not None:
        parts.append(f"roll centre z {plain_length(arm.roll_centre, unit)}")
    if arm.anti_squat is not None:
        parts.append(f"anti-squat {100 * arm.anti_squat:.0f} %, drive unit on the frame")
    return [f"left wheel at ride, for information: {'; '.join(parts)}"]


def plain_length(value: float, unit: str) -> str:
    """Return a length [mm] in the job's unit, without its name and without a minus before 0."""
    digits = 1 if unit == "mm" else 3
    return plain(value / per_unit(unit), digits)


def plain(value: float, digits: int) -> str:
    """Return a number without a minus before 0."""
    text = f"{value:.{digits}f}"
    return text.removeprefix("-") if float(text) == 0 else text


def cope_texts(study: Study, unit: str) -> list[str]:
    """Return, for each tube that is welded onto its joint and cannot be coped, why not."""
    return [
        f"no cope template for link {end.link.name}, {end.which} end: {in_unit(end.problem, unit)}"
        for end in coped_ends(study)
        if end.problem
    ]


def case_rows(study: Study, unit: str) -> Rows:
    """Return how the axle, or each arm, moves in every named case; titles first."""
    beam = study.entry.axle == "beam"
    turn = "roll" if beam else "camber"
    case = "case" if beam else "case (left wheel)"
    rows: Rows = [(case, "fore-aft", "sideways", "up", "steer", "pinion up", turn)]
    for state in study.named:
        moved = (plain_length(float(v), unit) for v in state.shift)
        last = state.roll if beam else state.camber
        turns = (plain(v, 2) for v in (state.steer, state.pinion, last))
        rows.append((state.case.name, *moved, *turns))
    return rows


def link_rows(study: Study, unit: str) -> Rows:
    """Return length and angles of every link in the named cases; titles first."""
    names = [state.case.name.replace("full ", "") for state in study.named]
    rows: Rows = [("link", "to centres", "tube", "plan", *names)]
    for k, link in enumerate(study.layout.links):
        states = [state.links[k] for state in study.named]
        angles = (
            plain(s.rear_angle if link.lateral else s.side_angle, 1)
            + (" rear" if link.lateral else "")
            for s in states
        )
        rows.append(
            (
                link.label,
                plain_length(link.length, unit),
                plain_length(link.tube_length, unit),
                plain(states[0].plan_angle, 1),
                *angles,
            )
        )
    return rows


def end_rows(study: Study, unit: str) -> Rows:
    """Return the misalignment of both ends of every link; titles first."""
    rows: Rows = [
        ("joint", "end", "misalignment", "at", "limit", "turned", "tilted", "both turned")
    ]
    return rows + [_end_row(end, unit) for end in study.ends]


def _end_row(end: EndStudy, unit: str) -> tuple[str, ...]:
    least = end.tightest
    limit = f"{least.limit:.1f} {least.what}" if least else "not known"
    better = [f"{b.angle:+.1f}: {b.left:.1f}" for b in (end.turn, end.tilt, end.both)]
    return (
        end.link.label,
        end.which,
        f"{end.worst:.1f}",
        in_unit(end.case, unit),
        limit,
        *(["one piece"] * 3 if end.link.fixed else better),
    )
