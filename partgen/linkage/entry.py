"""``[linkage]`` of a job file: points, links, travel, in vehicle axes (x forward, y left, z up)."""

from __future__ import annotations

from itertools import pairwise
from math import hypot
from typing import Literal, Self

from pydantic import Field, model_validator

from partgen.fields import Angle, At, Entry, Length, Margin, Name, Size, Text
from partgen.linkage.place import At3, HoleName, PartPlace, RailPlace

AxisName = Literal["lateral", "fore-aft", "upright"]
SWING_MARGIN = 3.0  # degrees beyond the stops; common practice, no source
CLEARANCE = 6.0  # mm, moving part to fixed part; common practice, no source
SHORTEST = 0.1  # mm between points of a line
SPARE = 2.0  # degrees of misalignment to keep; common practice, no source


class LinkEnd(Entry):
    """One end of a link.

    Attributes:
        mount: part whose bolt hole it is; gives the joint, the gap and the ear.
        hole: which of its holes, by name or number; default its joint's.
        at: the joint's centre in vehicle axes, where no mount gives it [mm].
        lever: name of the lever it sits on, if any.
        joint: name of the joint; default the mount's.
        bolt_axis: how the bolt lies: "lateral", "fore-aft" or "upright".
        turn: of the bolt's axis, anticlockwise seen from above [degrees].
        tilt: of the bolt's axis, its left end up [degrees].
        gap: clear distance between the ears, where no mount gives it [mm].
        ear_radius: of the ears, where no mount gives it [mm].
        shank: from the joint's centre to the end of its thread; none for a tube welded on [mm].
        engaged: how much of that thread is in the tube [mm].
        shank_diameter: of the shank [mm].
    """

    mount: Name | None = None
    hole: HoleName | None = None
    at: At3 | None = None
    lever: Name | None = None
    joint: Text | None = None
    bolt_axis: AxisName = "lateral"
    turn: Angle = 0.0
    tilt: Angle = 0.0
    gap: Size | None = None
    ear_radius: Size | None = None
    shank: Size | None = None
    engaged: Size | None = None
    shank_diameter: Size | None = None

    @model_validator(mode="after")
    def _one_place_and_a_whole_shank(self) -> Self:
        if (self.mount is None) == (self.at is None):
            raise ValueError("give either 'mount' (the point is its pivot) or 'at' = [x, y, z]")
        if self.hole is not None and self.mount is None:
            raise ValueError("'hole' is one of a 'mount'; give the mount's name too")
        shank = (self.shank, self.engaged, self.shank_diameter)
        if any(v is None for v in shank) and any(v is not None for v in shank):
            raise ValueError("'shank', 'engaged' and 'shank_diameter' go together; give all three")
        if self.shank is not None and self.engaged is not None and self.engaged >= self.shank:
            raise ValueError(
                f"'engaged' ({self.engaged:g} mm) must be less than 'shank' ({self.shank:g} mm)"
            )
        return self


class LinkEntry(Entry):
    """``[[linkage.link]]``: the left link of a pair, or a single one.

    Attributes:
        name: unique in the linkage.
        frame: its end at the frame.
        axle: its end at the axle.
        tube: outside diameter [mm].
        wall: of the tube; for its cope templates [mm].
        shoulder: length over which the tube's end tapers to the joint [mm].
        pair: whether the other side has its mirror image.
        fixed: one piece with the axle or hub: a trailing arm.
    """

    name: Name
    frame: LinkEnd
    axle: LinkEnd
    tube: Size
    wall: Margin = 0.0
    shoulder: Margin = 0.0
    pair: bool = True
    fixed: bool = False

    @model_validator(mode="after")
    def _wall_leaves_a_tube(self) -> Self:
        if self.wall >= self.tube / 2:
            raise ValueError(f"'wall' ({self.wall:g} mm) must be less than half the tube")
        return self


class LeverEntry(Entry):
    """``[linkage.lever.NAME]``: a lever that turns about one bolt, as in a lateral linkage.

    Attributes:
        pivot: in vehicle axes [mm].
        on: what carries its bolt: "axle" or "frame".
        bolt_axis: how its bolt lies.
    """

    pivot: At3
    on: Literal["axle", "frame"] = "axle"
    bolt_axis: AxisName = "fore-aft"


class ObstacleEntry(Entry):
    """``[[linkage.obstacle]]``: what a link could hit, in the side view of the part that holds it.

    Attributes:
        name: shown in findings; default the part's.
        mount: the part it is at.
        line: a plate seen on edge, as points along its middle; first point at the rail [mm].
        at: centre of something round: a bolt head, a pipe [mm].
        diameter: of the round thing [mm].
        flat: of a plate seen flat, where its drawing's zero lies [mm].
        turned: of that drawing, anticlockwise [degrees].
        aside: of a plate seen flat, middle of its thickness outward of the joint's middle [mm].
        part: part of this job that it is; the mount itself for its own plates.
        plate: which plate of that part, where it has several; seen flat.
        thickness: of the plate [mm].
        weld_leg: of the fillets at the line's first point; 0 for none [mm].
        trim: cut the part back to keep the clearance: "edge" all across, "notch" beside the link;
            "outline" cuts edge and windows of a plate seen flat.
    """

    name: Name | None = None
    mount: Name
    line: tuple[At, ...] | None = Field(default=None, min_length=2, max_length=100)
    at: At | None = None
    diameter: Size | None = None
    flat: At | None = None
    turned: Angle = 0.0
    aside: Length | None = None
    part: Name | None = None
    plate: Text | None = None
    thickness: Margin = 0.0
    weld_leg: Margin = 0.0
    trim: Literal["edge", "notch", "outline"] | None = None

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        given = sum(v is not None for v in (self.line, self.at, self.flat))
        if self.own and given:
            raise ValueError("the mount's own plates have their place; leave out line, at and flat")
        if not self.own and given != 1:
            raise ValueError("give either 'line', or 'at' and 'diameter', or 'flat' and 'aside'")
        if (self.at is None) != (self.diameter is None):
            raise ValueError("'at' and 'diameter' go together; give both")
        if (self.flat is None) != (self.aside is None):
            raise ValueError("'flat' and 'aside' go together; give both")
        for k, (a, b) in enumerate(pairwise(self.line or ()), 1):
            if hypot(a[0] - b[0], a[1] - b[1]) < SHORTEST:
                raise ValueError(f"'line': points {k} and {k + 1} are one; give two places")
        return self

    @model_validator(mode="after")
    def _part_to_trim(self) -> Self:
        seen_flat = self.own or self.flat is not None
        if self.trim == "outline" and not seen_flat:
            raise ValueError("'trim' = \"outline\" is for a plate seen flat; give 'flat', 'aside'")
        if self.trim in ("edge", "notch") and (self.part is None or len(self.line or ()) != 2):
            raise ValueError("'trim' needs the 'part' to cut and its 'line' of two points")
        if self.flat is not None and self.part is None:
            raise ValueError("a plate seen flat needs the 'part' of this job that it is")
        if self.name is None and self.part is None:
            raise ValueError("give a 'name', or the 'part' that it is")
        return self

    @property
    def own(self) -> bool:
        """Whether it means the mount's own plates."""
        return self.part == self.mount

    @property
    def title(self) -> str:
        """What findings call it."""
        return self.name or self.part or ""


class LinkageEntry(Entry):
    """``[linkage]``.

    Attributes:
        axle: "beam" (one axle across the vehicle) or "independent" (an arm for each wheel).
        wheel: centre of the left wheel at ride [mm].
        tyre_radius: loaded, centre to ground [mm].
        wheelbase: to the other axle, ahead; for anti-squat [mm].
        cg_height: centre of gravity above ground; for anti-squat [mm].
        bump: wheel travel up from ride [mm].
        droop: wheel travel down from ride [mm].
        roll: greatest roll of the axle; default one wheel at each stop [degrees].
        margin: swing beyond the stops [degrees].
        clearance: least, between a link and what it could hit [mm].
        spare: misalignment to keep in hand [degrees].
        rail: rails placed in the vehicle.
        place: other parts placed in the vehicle, so that links may name their holes.
        link: one [[linkage.link]] for each link.
        lever: levers by name.
        obstacle: what links could hit.
    """

    axle: Literal["beam", "independent"] = "beam"
    wheel: At3
    tyre_radius: Size | None = None
    wheelbase: Size | None = None
    cg_height: Size | None = None
    bump: Margin
    droop: Margin
    roll: Angle | None = Field(default=None, gt=0, le=45)
    margin: Angle = Field(default=SWING_MARGIN, ge=0, le=45)
    clearance: Margin = CLEARANCE
    spare: Angle = Field(default=SPARE, ge=0, le=45)
    rail: dict[Name, RailPlace] = Field(default={}, max_length=100)
    place: dict[Name, PartPlace] = Field(default={}, max_length=100)
    link: tuple[LinkEntry, ...] = Field(min_length=1, max_length=20)
    lever: dict[Name, LeverEntry] = Field(default={}, max_length=4)
    obstacle: tuple[ObstacleEntry, ...] = Field(default=(), max_length=100)

    @model_validator(mode="after")
    def _makes_sense(self) -> Self:
        names = [link.name for link in self.link]
        for name in dict.fromkeys(names):
            if names.count(name) > 1:
                raise ValueError(f"link '{name}' is there {names.count(name)} times; names differ")
        if self.wheel[1] <= 0:
            raise ValueError("'wheel' is the left one: its y must be more than 0 (y to the left)")
        if self.axle == "independent" and not all(link.fixed for link in self.link):
            raise ValueError("axle 'independent' takes links with fixed = true (trailing arms)")
        return self
