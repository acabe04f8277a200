"""A place on a sheet that the user gives to a plate, so that the layout goes round it."""

from __future__ import annotations

from typing import Annotated

from pydantic import StringConstraints

from partgen.fields import Angle, At, Count, Entry

Word = Annotated[
    str, StringConstraints(min_length=1, max_length=160, pattern=r"^[^\x00-\x1f\x7f]*$")
]


class FixedPlace(Entry):
    """``fixed = [{ at = [120, 40], turn = 90 }]`` of a part: one plate, where it has to lie.

    Attributes:
        at: lower left corner of its box as it lies there, from the sheet's lower left corner [mm].
        turn: anticlockwise from the way it is drawn [degrees].
        sheet: name of the sheet; may be left out where its plate comes on one kind of sheet.
        number: which of these sheets.
        plate: which plate of the part, as "outer/left"; may be left out where there is one.
    """

    at: At
    turn: Angle = 0.0
    sheet: Word | None = None
    number: Count = 1
    plate: Word | None = None
