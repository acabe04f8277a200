"""Plates that a job fixes at a place on a sheet: which copies, and where."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from partgen.entries.fixed_place import FixedPlace
from partgen.errors import nearest
from partgen.families.part import Part
from partgen.job.build import Build
from partgen.layout import LayoutError, Piece, Placement, Sheet
from partgen.plates.plate import Plate

PLACES = 9  # decimals of a placement, as in job.json; far below what the check allows


def settled(placement: Placement) -> Placement:
    """Return a placement as ``job.json`` will hold it, so that read back it is the very same."""
    x, y, turn = (round(v, PLACES) for v in (placement.x, placement.y, placement.turn))
    return replace(placement, x=x, y=y, turn=turn)


def fixed_places(
    build: Build, plates: Sequence[Plate], pieces: Sequence[Piece], sheets: Sequence[Sheet]
) -> list[Placement]:
    """Return where the job fixes plates of one kind; the first copies of each.

    Args:
        build: the job built.
        plates: those of the kind.
        pieces: the same as the layout sees them.
        sheets: those of the kind.

    Raises:
        LayoutError: a plate or sheet that is not there, one line for each.
    """
    found: list[Placement] = []
    problems: list[str] = []
    for part, number, place in _places(build, plates):
        try:
            label = _label(part, place, build.plates)
            if label in {plate.label for plate in plates}:
                piece = next(p for p in pieces if p.name == label)
                copy = sum(p.piece == label for p in found) + 1
                found.append(_placement(piece, copy, place, sheets))
        except LayoutError as error:
            problems += [f'part "{part.name}".fixed[{number}]: {p}' for p in error.problems]
    if problems:
        raise LayoutError(problems)
    return found


def _places(build: Build, plates: Sequence[Plate]) -> Iterator[tuple[Part, int, FixedPlace]]:
    made = {plate.part for plate in plates}
    for part in build.job.parts:
        if part.name in made:
            yield from ((part, number, place) for number, place in enumerate(part.fixed, 1))


def _label(part: Part, place: FixedPlace, plates: Sequence[Plate]) -> str:
    """Return the label of the plate that is meant."""
    head = f"{part.name}/"
    names = [p.label.removeprefix(head) for p in plates if p.part == part.name]
    if place.plate is None and len(names) == 1:
        return head + names[0]
    word = (place.plate or "").removeprefix(head)
    if word not in names:
        listed = ", ".join(f"'{name}'" for name in names)
        if place.plate is None:
            raise LayoutError(f"say which plate; plate = one of {listed}")
        raise LayoutError(f"plate '{place.plate}' is not made here; {nearest(word, names)}")
    return head + word


def _placement(piece: Piece, copy: int, place: FixedPlace, sheets: Sequence[Sheet]) -> Placement:
    names = [sheet.name for sheet in sheets]
    if place.sheet is None and len(names) > 1:
        listed = ", ".join(f"'{name}'" for name in names)
        raise LayoutError(f"say on which sheet; sheet = one of {listed}")
    name = place.sheet or names[0]
    if name not in names:
        raise LayoutError(f"sheet '{name}' is none of this plate; {nearest(name, names)}")
    x0, y0, _, _ = piece.edge.turned(place.turn).box
    x, y = place.at[0] - x0, place.at[1] - y0
    return settled(Placement(piece.name, copy, name, place.number, x, y, place.turn % 360.0))
