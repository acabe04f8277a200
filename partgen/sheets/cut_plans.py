"""The cutting plans of a job: one for each sheet used; what the cut files are written from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from partgen.cut.dry_run import faults
from partgen.cut.effort import Effort, effort
from partgen.cut.loop import Lying, lying, placed
from partgen.cut.motion import program
from partgen.cut.plan import Plan, Way, plan
from partgen.cut.post import Post, post
from partgen.cut.ready import Ready
from partgen.entries.cutting import Cutting
from partgen.entries.prices import Prices
from partgen.errors import PartgenError, under
from partgen.geometry.outline import Outline
from partgen.layout import Layout, Used, tip_ups
from partgen.measure import in_unit, parse_length
from partgen.plates.plate import Plate
from partgen.sheets.kerf_asked import kerf_asked, refuse_narrow
from partgen.sheets.nest import Nest

MOST_JOINTS = 12
MOST_COOL = 5000.0  # mm
PIXELS = (100, 10_000)  # narrowest and widest PNG


@dataclass(frozen=True)
class Asked:
    """What is asked of the cut files, as typed.

    Attributes:
        kerf: "profile" or a length to compensate; None leaves the files nominal.
        leads: draw lead-ins and lead-outs.
        clockwise: run outside edges clockwise.
        joints: micro-joints on each outside edge.
        one_layer: all cuts on one layer.
        text: scribe identity, hand and face.
        motion: post profile of the motion programs; None for none.
        cool: a length: what lies nearer to the loop just cut waits; None for the profile's.
        order: number the cuts in the sheets' pictures.
        png: width of the sheets' pictures as PNG too [pixels]; None for none.
    """

    kerf: str | None = None
    leads: bool = False
    clockwise: bool = False
    joints: int = 0
    one_layer: bool = False
    text: bool = False
    motion: str | None = None
    cool: str | None = None
    order: bool = False
    png: int | None = None


@dataclass(frozen=True)
class Work:
    """What is asked of the cut files, read.

    Attributes:
        way: how the DXF files are cut.
        one_layer: all cuts on one layer.
        post: of the motion programs, if any.
    """

    way: Way = field(default_factory=Way)
    one_layer: bool = False
    post: Post | None = None

    def motion_way(self, process: Cutting) -> Way:
        """Return how motion programs are cut: compensated, with leads, outside edges clockwise.

        The square side of a plasma cut is on the right with the usual swirl: common practice.
        """
        return replace(self.way, kerf=self.way.kerf or process.kerf, leads=True, clockwise=True)


def work(asked: Asked, process: Cutting, unit: str, gap: float) -> Work:
    """Return what is asked, with the profile's kerf; ``gap`` is left between plates [mm].

    Raises:
        PartgenError: the kerf is no length, unlikely or wider than the gap, or the post profile is
            unknown.
    """
    kerf = 0.0 if asked.kerf is None else kerf_asked(asked.kerf, process, unit)
    if not 0 <= asked.joints <= MOST_JOINTS:
        raise PartgenError(f"--joints {asked.joints}: write 0 to {MOST_JOINTS}")
    with under("--cool"):
        cool = process.cool if asked.cool is None else parse_length(asked.cool, unit)
    if not 0 <= cool <= MOST_COOL:
        raise PartgenError(
            in_unit(f"--cool {asked.cool}: {cool:g} mm is outside 0 to {MOST_COOL:g} mm", unit)
        )
    if asked.png is not None:
        refuse_width(asked.png)
    way = Way(kerf, asked.leads, asked.clockwise, asked.joints, cool)
    with under("--motion"):
        found = Work(way, asked.one_layer, None if asked.motion is None else post(asked.motion))
    refuse_narrow(gap, found.motion_way(process).kerf if found.post else kerf, unit)
    return found


def refuse_width(png: int) -> None:
    """Refuse a picture that is too narrow or too wide.

    Raises:
        PartgenError: the width is out of range.
    """
    if not PIXELS[0] <= png <= PIXELS[1]:
        raise PartgenError(f"--png {png}: {PIXELS[0]} to {PIXELS[1]} pixels wide")


@dataclass(frozen=True)
class SheetPlan:
    """One sheet and how it is cut.

    Attributes:
        nest: the layout it belongs to.
        sheet: name of the stock.
        number: which of the stock's copies.
        plan: as the DXF has it.
        motion: as the motion program has it, if one is written.
        effort: time and cost, of the motion if there is one; None without a thickness.
        tips: what to heed about plates that may tip between the slats.
    """

    nest: Nest
    sheet: str
    number: int
    plan: Plan
    motion: Plan | None
    effort: Effort | None
    tips: tuple[str, ...] = ()

    @property
    def used(self) -> Used:
        """How much of the sheet is used."""
        return next(
            u for u in self.nest.layout.used if (u.sheet, u.number) == (self.sheet, self.number)
        )

    @property
    def notes(self) -> tuple[str, ...]:
        """Everything to heed, by plate."""
        return (*(self.motion or self.plan).notes, *self._not_in_program, *self.tips)

    @property
    def _not_in_program(self) -> tuple[str, ...]:
        """A note on drill centres, which a motion program leaves out."""
        centres = sum(mark.kind == "drill" for mark in self.plan.marks) // 2
        if self.motion is None or not centres:
            return ()
        return (
            f"sheet {self.sheet}, number {self.number}: {centres} drill centres are not in the "
            "motion program: punch them from a template at full scale (partgen template)",
        )


def plate_plan(plate: Plate, plates: Mapping[str, Lying], process: Cutting, way: Way) -> Plan:
    """Return how one plate is cut, its lower left corner at (0, 0).

    Raises:
        PartgenError: see :func:`partgen.cut.plan.plan`.
    """
    x0, y0, _, _ = plate.outline.box
    here = plates.get(plate.label) or lying(plate)
    return plan([placed(here, -x0, -y0, 0.0)], process, way)


def sheet_plans(
    nests: Sequence[Nest], ready: Ready, process: Cutting, work: Work
) -> list[SheetPlan]:
    """Return how every sheet of a job is cut.

    Raises:
        PartgenError: features lost to the kerf, or no room for a lead; one line for each.
    """
    found: list[SheetPlan] = []
    problems: list[str] = []
    for nest in nests:
        for used in nest.layout.used:
            try:
                found.append(
                    sheet_plan(
                        nest,
                        used.sheet,
                        used.number,
                        ready.lying,
                        process,
                        work,
                        ready.build.job.prices,
                    )
                )
            except PartgenError as error:
                problems += error.problems
    if problems:
        job = ready.build.job
        lines = (f"{job.path.name}: {in_unit(line, job.unit)}" for line in problems)
        raise PartgenError(list(dict.fromkeys(lines)))
    return found


def sheet_plan(
    nest: Nest,
    sheet: str,
    number: int,
    plates: Mapping[str, Lying],
    process: Cutting,
    work: Work,
    prices: Prices | None = None,
) -> SheetPlan:
    """Return how one sheet is cut; ``plates`` by name, where more than outlines is known."""
    stock = nest.sheet(sheet)
    edges: tuple[Outline, ...] = (stock.outline, *stock.openings)
    there = _lying_on(nest, sheet, number, plates)
    drawn = plan(there, process, work.way, edges)
    motion = None
    if work.post is not None:
        motion = plan(there, process, work.motion_way(process), edges)
    taken = None
    if nest.stock is not None:
        taken = effort(motion or drawn, process, nest.stock.thickness, prices or Prices())
    tips = () if work.way.joints else _tips(nest, sheet, number, process.slats)
    return SheetPlan(nest, sheet, number, drawn, motion, taken, tips)


def _tips(nest: Nest, sheet: str, number: int, slats: float) -> tuple[str, ...]:
    """Return a note for each kind of plate on a sheet that may tip or fall."""
    if not slats:
        return ()
    here = [p for p in nest.layout.placements if (p.sheet, p.number) == (sheet, number)]
    used = tuple(u for u in nest.layout.used if (u.sheet, u.number) == (sheet, number))
    found = tip_ups(Layout(tuple(here), used), nest.pieces, slats)
    falls = {p.placement.piece: p.falls for p in sorted(found, key=lambda tip: tip.falls)}
    return tuple(
        f"{p.name}: may {'fall' if falls[p.name] else 'tip'} between slats {slats:.6g} mm apart: "
        "hold it by --joints, or take it out at once"
        for p in nest.pieces
        if p.name in falls
    )


def _lying_on(nest: Nest, sheet: str, number: int, plates: Mapping[str, Lying]) -> list[Lying]:
    outlines = {piece.name: piece.outlines for piece in nest.pieces}
    count = {piece.name: piece.count for piece in nest.pieces}
    found = []
    for p in nest.layout.placements:
        if (p.sheet, p.number) != (sheet, number):
            continue
        plate = plates.get(p.piece) or _bare(p.piece, outlines[p.piece])
        copy = f" {p.copy}" if count[p.piece] > 1 else ""
        found.append(placed(plate, p.x, p.y, p.turn, copy))
    return found


def _bare(name: str, outlines: tuple[Outline, ...]) -> Lying:
    """Return a plate of which only outlines are known."""
    openings = tuple((f"opening {k}", o) for k, o in enumerate(outlines[:-1], 1))
    centres = tuple(o.circle_of[:2] for o in outlines[:-1] if o.circle_of)
    return Lying(name, openings, outlines[-1], centres)


def motion_program(found: SheetPlan, post: Post, process: Cutting, job: str, unit: str) -> bytes:
    """Return the motion program of a sheet, after a dry run.

    Raises:
        PartgenError: the profile has no feed for the thickness, or the program does not do what
            it should.
    """
    stock, motion = found.nest.stock, found.motion
    assert stock is not None
    assert motion is not None
    feed = process.feed_at(stock.thickness)
    if feed is None:
        raise PartgenError(
            f"--motion: {process.name} has no feed for {stock.text(unit)}; add a [[feed]] row to "
            "the cutting profile, or cutting.feed to the job"
        )
    comments = (
        f"job: {job}",
        f"sheet {found.sheet}, number {found.number}, {stock.text(unit)}, {process.name}",
    )
    content = program(motion, post, feed, unit=unit, comments=comments)
    wrong = faults(
        content,
        post,
        [p.run for p in motion.passes],
        [(*p.lead_in, *p.lead_out) for p in motion.passes],
        found.nest.sheet(found.sheet).outline,
    )
    if wrong:
        raise PartgenError(
            f"--motion: the program failed its dry run: {'; '.join(wrong[:3])}; check the words of "
            f"the post profile '{post.name}'"
        )
    return content
