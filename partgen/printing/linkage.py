"""A linkage on the screen: what holds it, its cases, its links, its joints."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict

from partgen.cautions import SHORT
from partgen.linkage.advice import Drop
from partgen.linkage.ends import EndStudy
from partgen.linkage.study import Study
from partgen.measure import in_unit, per_unit, shown
from partgen.packet.linkage_data import linkage_data
from partgen.printing.text import print_json, table

Rows = list[tuple[str, ...]]


def linkage(
    name: str,
    study: Study,
    drops: Sequence[Drop],
    bump_angle: float | None,
    unit: str,
    *,
    as_json: bool,
) -> None:
    """Print a linkage worked through.

    Args:
        name: of the job.
        study: the linkage.
        drops: frame ends for a wanted angle at full bump, if one was asked for.
        bump_angle: that angle [degrees].
        unit: of lengths.
        as_json: print data instead.
    """
    if as_json:
        print_json(
            {"job": name, **(linkage_data(study) or {}), "drops": [asdict(d) for d in drops]}
        )
        return
    print(f"{name}: lengths in {unit}, angles in degrees; x forward, y left, z up (ISO 8855)")
    who = "axle" if study.entry.axle == "beam" else "each arm"
    print(f"  {who}: {study.holds[0].text}")
    if study.binds:
        worst = shown(study.binds.misfit, unit, 2 if unit == "mm" else 3)
        print(f"  BINDS: rubber or metal must give {worst} {unit} at {study.binds.case.name}")
    _centres(study, unit)
    print()
    table(_case_rows(study, unit), numbers=range(1, 7))
    print()
    table(_link_rows(study, unit), numbers=range(1, 9))
    print("side and plan angles: axle end higher, or further out, positive; rear for lateral links")
    print()
    table(_end_rows(study, unit), numbers=range(2, 3))
    print("turned (from above), tilted (left end up): the bolt by so much leaves so much")
    if bump_angle is not None:
        print()
        _drops(drops, bump_angle, unit)
    print(SHORT)


def _mm(value: float, unit: str) -> str:
    digits = 1 if unit == "mm" else 3
    return _plain(value / per_unit(unit), digits)


def _plain(value: float, digits: int) -> str:
    text = f"{value:.{digits}f}"
    return text.removeprefix("-") if float(text) == 0 else text


def _centres(study: Study, unit: str) -> None:
    for name, angle in study.triangles.items():
        if angle > 0.05:
            print(f"  links {name}: {angle:.1f} deg from left to right, seen from above")
    c = study.centres
    if c is None:
        return
    if c.instant_centre is None:
        parts = ["side-view instant centre: none, the axle does not turn in heave"]
    else:
        x, z = (_mm(v, unit) for v in c.instant_centre)
        parts = [f"side-view instant centre x {x}, z {z}"]
    if c.roll_centre is not None:
        parts.append(
            f"roll centre z {_mm(c.roll_centre, unit)}, roll axis {c.roll_axis_angle:+.2f} deg"
        )
    if c.anti_squat is not None:
        parts.append(f"anti-squat {100 * c.anti_squat:.0f} %")
    print(f"  at ride, for information: {'; '.join(parts)}")


def _case_rows(study: Study, unit: str) -> Rows:
    turn = "roll" if study.entry.axle == "beam" else "camber"
    case = "case" if study.entry.axle == "beam" else "case (left wheel)"
    rows: Rows = [(case, "fore-aft", "sideways", "up", "steer", "pinion up", turn)]
    for state in study.named:
        moved = (_mm(float(v), unit) for v in state.shift)
        turns = (_plain(v, 2) for v in (state.steer, state.pinion, state.roll))
        rows.append((state.case.name, *moved, *turns))
    return rows


def _link_rows(study: Study, unit: str) -> Rows:
    names = [state.case.name.replace("full ", "") for state in study.named]
    rows: Rows = [("link", "to centres", "tube", "plan", *names)]
    for k, link in enumerate(study.layout.links):
        states = [state.links[k] for state in study.named]
        angles = (
            _plain(s.rear_angle if link.lateral else s.side_angle, 1)
            + (" rear" if link.lateral else "")
            for s in states
        )
        rows.append(
            (
                link.label,
                _mm(link.length, unit),
                _mm(link.tube_length, unit),
                _plain(states[0].plan_angle, 1),
                *angles,
            )
        )
    return rows


def _end_rows(study: Study, unit: str) -> Rows:
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


def _drops(drops: Sequence[Drop], angle: float, unit: str) -> None:
    print(f"For {angle:g} deg at full bump (axle end above frame end positive):")
    for drop in drops:
        word = "lower" if drop.lower >= 0 else "raise"
        rail = ""
        if drop.below_rail is not None:
            where = "below" if drop.below_rail >= 0 else "above"
            rail = f", {_mm(abs(drop.below_rail), unit)} {unit} {where} the rail's lower edge"
        print(
            f"  link {drop.link}, now {drop.angle:.1f} deg: {word} its frame end by "
            f"{_mm(abs(drop.lower), unit)} {unit}{rail}"
        )
