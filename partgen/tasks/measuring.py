"""What to measure on the vehicle for a job, as a numbered form; and what its readings say.

The form asks for what the job's sums hang on: rails, joints, bolts in hand, plates, and the
readings of every net. The value that the job works with now stands beside each blank.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from partgen.entries.joint import Joint
from partgen.entries.net_check import NetCheck, check_net
from partgen.entries.rail import Rail
from partgen.errors import GeometryError, PartgenError
from partgen.job.job import Job, load_job
from partgen.measure import in_unit, length_text
from partgen.output.own_file import write_new
from partgen.packet.tables import csv_bytes

CALLIPER, TAPE, GAUGE = "calliper", "tape", "radius gauge"


@dataclass(frozen=True)
class Blank:
    """One line of the form.

    Attributes:
        number: on the form.
        thing: which rail, joint, mount or plate.
        what: what to measure.
        tool: with what.
        now: the value in the job, as text; empty if it holds none.
        sides: blanks to fill: "left", "right"; or one, "".
    """

    number: int
    thing: str
    what: str
    tool: str
    now: str
    sides: tuple[str, ...] = ("",)


@dataclass(frozen=True)
class Measuring:
    """The form of a job, and its nets checked.

    Attributes:
        job: the job.
        form: what to measure, numbered.
        nets: by name.
    """

    job: Job
    form: list[Blank]
    nets: dict[str, NetCheck]

    @property
    def consistent(self) -> bool:
        """Tell whether every net agrees within its tolerance."""
        return all(net.consistent for net in self.nets.values())


Ask = tuple[str, str, str, float | None]  # thing, what, tool, value now [mm]


def measuring(path: Path) -> Measuring:
    """Return the form of a job, and its readings checked.

    Raises:
        PartgenError: the job is wrong, or the readings of a net do not hold together.
    """
    job = load_job(path)
    nets: dict[str, NetCheck] = {}
    problems: list[str] = []
    for name, net in job.nets.items():
        try:
            nets[name] = check_net(net)
        except GeometryError as error:
            problems += [f"{path.name}: net.{name}: {in_unit(p, job.unit)}" for p in error.problems]
    if problems:
        raise PartgenError(problems)
    return Measuring(job, form(job), nets)


def form(job: Job) -> list[Blank]:
    """Return everything to measure for a job, numbered from 1."""
    sided = [ask for name, rail in job.shop.rails.items() for ask in _of_rail(name, rail)]
    sided += [ask for part in job.parts for ask in _of_part(part)]
    single = [ask for name, joint in job.shop.joints.items() for ask in _of_joint(name, joint)]
    single += [
        (f"plate {stock.text(job.unit)}", "thickness, at three corners", CALLIPER, stock.thickness)
        for stock in dict.fromkeys(sheet.plate for sheet in job.sheets)
    ]
    single += [
        (f"net {name}", f"{a} to {b}, straight", TAPE, length)
        for name, net in job.nets.items()
        for a, b, length in net.readings
    ]
    asks = [(ask, ("left", "right")) for ask in sided] + [(ask, ("",)) for ask in single]
    return [
        Blank(k, thing, what, tool, "" if now is None else length_text(now, job.unit), sides)
        for k, ((thing, what, tool, now), sides) in enumerate(asks, 1)
    ]


def form_csv(form: list[Blank]) -> bytes:
    """Return the form for a spreadsheet, one line for each blank."""
    head = ("number", "thing", "what", "side", "tool", "in the job now", "measured")
    return csv_bytes(
        head, ((b.number, b.thing, b.what, s, b.tool, b.now, "") for b in form for s in b.sides)
    )


def write_form(form: list[Blank], path: Path) -> None:
    """Write the form as a new CSV file.

    Raises:
        PartgenError: the file is there already, or cannot be written.
    """
    write_new(path.parent, {path.name: form_csv(form)}, "--csv")


def _of_rail(name: str, rail: Rail) -> list[Ask]:
    thing = f"rail {name}"
    asks: list[Ask] = [
        (thing, "outside width, at each mount", CALLIPER, rail.width),
        (thing, "outside height, at each mount", CALLIPER, rail.depth),
        (thing, "outside corner radius", GAUGE, rail.corner_radius),
        (thing, "wall, at an open end or a hole", CALLIPER, rail.wall),
    ]
    for edge, entry in (("lower edge", rail.lower_edge), ("upper edge", rail.upper_edge)):
        for k, (x, y, *bend) in enumerate(entry.measured if entry else (), 1):
            at = f"station {k}" if edge == "lower edge" else f"{edge}, station {k}"
            asks.append((thing, f"{at}: along the straightedge, forward from zero", TAPE, x))
            asks.append((thing, f"{at}: {edge} above the straightedge", CALLIPER, y))
            asks += [(thing, f"{at}: radius of the bend", GAUGE, r) for r in bend if r]
    return asks


def _of_part(part: object) -> list[Ask]:
    pivot, name = getattr(part, "pivot", None), getattr(part, "name", "")
    if not isinstance(pivot, tuple) or len(pivot) != 2:
        return []
    thing = f"mount {name}"
    return [
        (thing, "bolt centre, forward from zero", TAPE, float(pivot[0])),
        (thing, "bolt centre above the rail's zero line", TAPE, float(pivot[1])),
    ]


def _of_joint(name: str, joint: Joint) -> list[Ask]:
    thing = f"joint {name}"
    bolt = joint.bolt
    return [
        (thing, "sleeve or ball with its spacers, face to face", CALLIPER, joint.measured),
        (thing, "soft bush width, if it has one", CALLIPER, joint.bush_width),
        (thing, "bore", CALLIPER, joint.bore),
        (thing, "body outside diameter", CALLIPER, joint.body_diameter),
        (thing, f"bolt in hand ({bolt.size}): length under the head", CALLIPER, joint.bolt_length),
        (thing, f"bolt in hand ({bolt.size}): plain shank to the thread", CALLIPER, joint.shank),
        (thing, "nut in hand: height", CALLIPER, joint.nut_height),
    ]
