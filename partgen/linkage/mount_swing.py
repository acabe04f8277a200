"""What every link nears as it turns at the parts that hold it, and how those are cut back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from partgen.entries.joint import Joint
from partgen.entries.rail import Rail
from partgen.geometry.outline import Outline
from partgen.geometry.segment import Point, Segment
from partgen.linkage.bracket import Bracket
from partgen.linkage.entry import LinkageEntry, ObstacleEntry
from partgen.linkage.flat import Flat, flats
from partgen.linkage.flat_trim import Cut, flat_cut, own_cut
from partgen.linkage.leaning_ear import leaning_cut, square_view
from partgen.linkage.obstacle import Obstacle, axle_tube, bolt_heads, declared, rail_obstacle
from partgen.linkage.plate_edge import Edge, plate_edge
from partgen.linkage.points import Link
from partgen.linkage.swing import Nearest, Range, nearest
from partgen.linkage.trimming import Trim, applied, trim_for
from partgen.linkage.turning import Turning
from partgen.plates.plate import Plate

Trims = dict[str, Trim | Cut]


@dataclass(frozen=True)
class MountSwing:
    """What a link does at a part that holds it.

    Attributes:
        link: the link.
        which: "frame" or "axle": the end it turns about.
        mount: name of the part.
        range: how far it turns.
        shape: its silhouette, the bolt at (0, 0) and the link along +x [mm].
        nearest: to each obstacle.
        unplaced: parts of this mount whose place the linkage does not know.
        edge: where it comes nearest to touching its plates' edge; None where that is not known.
    """

    link: Link
    which: str
    mount: str
    range: Range
    shape: Outline
    nearest: tuple[Nearest, ...]
    unplaced: tuple[str, ...]
    edge: Edge | None


@dataclass(frozen=True)
class Surroundings:
    """What the job holds round the links.

    Attributes:
        brackets: parts that may hold links, by name.
        rails: frame members by name.
        joints: joints by name.
        plates: every plate.
        placed: parts whose place in the mount's side view is known, as obstacles, by mount.
        beside: parts that belong to a mount and stand in its gap, by mount.
    """

    brackets: Mapping[str, Bracket]
    rails: Mapping[str, Rail]
    joints: Mapping[str, Joint]
    plates: Sequence[Plate] = ()
    beside: Mapping[str, Sequence[str]] | None = None
    placed: Mapping[str, Sequence[Obstacle]] | None = None


def swings(
    entry: LinkageEntry, turning: Sequence[Turning], around: Surroundings
) -> tuple[list[MountSwing], Trims]:
    """Return what every link does where it is held, and how parts in the way are cut back.

    Args:
        entry: ``[linkage]``.
        turning: every link at every hole that holds it.
        around: what the job holds round the links.

    Raises:
        GeometryError: a part cannot be cut back enough.
    """
    by_part: dict[str, list[Turning]] = {}
    for t in turning:
        by_part.setdefault(t.seated.bracket.name, []).append(t)
    found: list[MountSwing] = []
    trims: Trims = {}
    for name, here in by_part.items():
        place = _Place(entry, around, around.brackets[name], here)
        trims |= place.trims()
        found += [place.swing(t, trims) for t in here]
    return found, trims


@dataclass(frozen=True)
class _Place:
    """A part, and the links that turn at it.

    Attributes:
        entry: ``[linkage]``.
        around: what the job holds round the links.
        bracket: the part.
        here: the links.
    """

    entry: LinkageEntry
    around: Surroundings
    bracket: Bracket
    here: Sequence[Turning]

    @property
    def rail(self) -> Rail | None:
        """The rail the part is on, if it is on one."""
        return self.around.rails.get(self.bracket.rail)

    @property
    def declared(self) -> list[ObstacleEntry]:
        """What the job file says is in the way here."""
        return [thing for thing in self.entry.obstacle if thing.mount == self.bracket.name]

    @property
    def flats(self) -> list[tuple[ObstacleEntry, Flat]]:
        """The plates seen flat."""
        return flats(self.declared, self.around.plates)

    def trims(self) -> Trims:
        """Return how parts in the way are cut back."""
        found: Trims = {}
        for thing in self.declared:
            if thing.trim in ("edge", "notch") and thing.part and thing.line:
                line, thick = (
                    (thing.line[0], thing.line[1]),
                    declared(thing, self.rail, self.around.plates)[0].half,
                )
                trim = trim_for(line, thick, self.here, self.entry.clearance, thing.trim == "notch")
                if trim is not None:
                    found[thing.part] = trim
            elif thing.trim and thing.own:
                found |= self._own_cuts()
        for thing, flat in self.flats:
            cut = flat_cut(flat, self.here, self.entry.clearance) if thing.trim else None
            if cut is not None:
                found[flat.plate.key] = cut
        return found

    def _own_cuts(self) -> Trims:
        found: Trims = {}
        leans = self.bracket.mount is not None and self.bracket.mount.ear_angle
        for plate in self.bracket.ears:
            tools: list[Outline] = []
            for t in self.here:
                tool = (leaning_cut if leans else own_cut)(plate, t, self.entry.spare)
                if tool is not None and not any(tool.is_same(other, 1e-6) for other in tools):
                    tools.append(tool)
            if tools:
                found[plate.key] = Cut(tuple(tools))
        return found

    def swing(self, t: Turning, trims: Trims) -> MountSwing:
        """Return what one link does here."""
        turns, things = t.range, self._things(t, trims)
        near = [*nearest(t.shape, t.pivot, turns.first, turns.last, things)]
        for _, flat in self.flats:
            (cut,) = applied([flat.plate], trims)
            found = flat.near(cut, t, self.entry.clearance)
            near += [found] if found else []
        placed = {thing.part for thing in self.entry.obstacle}
        beside = (self.around.beside or {}).get(self.bracket.name, ())
        unplaced = tuple(part for part in beside if part not in placed)
        return MountSwing(
            t.link,
            t.which,
            self.bracket.name,
            turns,
            t.shape,
            tuple(near),
            unplaced,
            self._edge(t, trims),
        )

    def _edge(self, t: Turning, trims: Trims) -> Edge | None:
        if self.bracket.mount is None:
            return None
        ears = applied(self.bracket.ears, trims)
        if t.square is None:
            return plate_edge(t, ears)
        return plate_edge(t.square, [square_view(ear, t) for ear in ears])

    def _things(self, t: Turning, trims: Trims) -> list[Obstacle]:
        """Return what is in a link's way, with what is trimmed cut back already."""
        used = [other.seated.seat.name for other in self.here]
        things: list[Obstacle] = []
        if self.rail is not None:
            things.append(rail_obstacle(self.rail, self.bracket.rail))
        if self.bracket.tube is not None:
            gap = self.bracket.mount.fit.gap if self.bracket.mount else 0.0
            things.append(axle_tube(self.bracket.tube, self.bracket.skew, gap))
        if self.bracket.mount is not None:
            things += bolt_heads(self.bracket, used, t.seated.seat.bolt, self.rail)
        for thing in self.declared:
            if thing.own or thing.flat is not None:
                continue
            plate, *more = declared(thing, self.rail, self.around.plates)
            trim = trims.get(thing.part or "")
            if isinstance(trim, Trim) and thing.trim and thing.line:
                plate = replace(
                    plate, segments=(_first((thing.line[0], thing.line[1]), trim.kept),)
                )
            things += [plate, *more]
        things += (self.around.placed or {}).get(self.bracket.name, ())
        return things


def _first(line: tuple[Point, Point], length: float) -> Segment:
    """Return the first ``length`` of a line."""
    whole = Segment(*line[0], *line[1])
    return Segment(*line[0], *whole.at(length / whole.chord))


def edges(found: Iterable[MountSwing]) -> dict[tuple[str, str], Edge]:
    """Return where each link comes nearest to touching its plates' edge, by label and end."""
    return {(s.link.label, s.which): s.edge for s in found if s.edge is not None}
