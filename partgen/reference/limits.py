"""A shop's own limits: shapes no standard rules on; from ``[limits]`` of a rule set's file.

Every number is an editable default, "common practice, no source" unless the file that sets it names
a source of its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field, ValidationError

from partgen.errors import ProfileError, nearest
from partgen.fields import Entry, Margin, Reading, Size

Factor = Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)]
Degrees = Annotated[float, Field(ge=0, le=90, allow_inf_nan=False)]
NO_SOURCE = "common practice, no source"


class LimitValues(Entry):
    """``[limits]``: the numbers.

    Attributes:
        inside_radius: wanted in corners that point into the metal [mm].
        feature_width: least width of a tongue of metal or of an opening [mm].
        slot_per_thickness: least width of an opening over the thickness [-].
        spike_angle: sharpest outside corner [degrees].
        mark_gap: from text and marks to a cut [mm].
        leg_per_thickness: leg of a fillet where the part names none, over the thinner part [-].
        flange_keep_out: from a weld to the edge of an open rail's flange [mm].
        square_end_angle: an end nearer than this to square across the rail is square [degrees].
        toe_per_thickness: longest blunt end of a gusset over its thickness [-].
        drain_hole: least drain of a closed box [mm].
        drain_per_thickness: the same over the thickness [-].
        bend_radius_per_thickness: of a bend that names none, inside, over the thickness [-].
        bend_hole_per_thickness: metal between a bend and a hole, over the thickness [-].
        insertion_room: beyond the bolt's length, to put it in [mm].
    """

    inside_radius: Size
    feature_width: Size
    slot_per_thickness: Factor
    spike_angle: Degrees
    mark_gap: Margin
    leg_per_thickness: Factor
    flange_keep_out: Margin
    square_end_angle: Degrees
    toe_per_thickness: Factor
    drain_hole: Size
    drain_per_thickness: Factor
    bend_radius_per_thickness: Factor
    bend_hole_per_thickness: Factor
    insertion_room: Margin


@dataclass(frozen=True)
class Limits:
    """The numbers, and where each comes from.

    Attributes:
        values: the numbers.
        sources: source by name.
    """

    values: LimitValues
    sources: Mapping[str, str]

    def source(self, *names: str) -> str:
        """Return the sources of some limits, each once.

        Raises:
            KeyError: no such limit.
        """
        return "; ".join(dict.fromkeys(self.sources[name] for name in names))


def read_limits(files: list[tuple[str, Mapping[str, Any]]]) -> Limits:
    """Return the limits of several files, the later ones over the earlier.

    Args:
        files: name of each file, for messages, and its contents.

    Raises:
        ProfileError: a limit is unknown, out of range, or set by no file; one line for each.
    """
    merged: dict[str, Any] = {}
    sources: dict[str, str] = {}
    problems: list[str] = []
    for where, data in files:
        block = data.get("limits", {})
        if not isinstance(block, dict):
            raise ProfileError(f"{where}: [limits] must be a table")
        for key in block:
            if key not in LimitValues.model_fields:
                hint = nearest(key, LimitValues.model_fields)
                problems.append(f"{where}: limits.{key}: unknown key; {hint}")
        merged |= {k: v for k, v in block.items() if k in LimitValues.model_fields}
        sources |= dict.fromkeys(block, str(data.get("source", NO_SOURCE)))
    try:
        values = LimitValues.model_validate(merged, context=Reading("mm"))
    except ValidationError as error:
        for item in error.errors():
            name = ".".join(str(part) for part in item["loc"])
            text = item["msg"].removeprefix("Value error, ")
            problems.append(f"{files[-1][0]}: limits.{name}: {text}")
    if problems:
        raise ProfileError(problems)
    return Limits(values, sources)
