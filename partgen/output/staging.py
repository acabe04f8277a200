"""Files into a folder in one step: the former ones whole, or the new ones, whenever it is killed.

1. Everything is staged in a folder of its own beside its place, and read back by a proof.
2. One rename, of the list of moves, decides: before it the former files are whole; after it the
   moves are done, by this run or, if it was killed, by the next one into that folder.

Runs into one folder wait for each other.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from partgen.errors import PartgenError
from partgen.file_content import file_content
from partgen.output.folder_lock import locked
from partgen.packet.data import digest

STAGING = ".partgen-"  # start of the staging folder's name
MOVES = "moves.json"  # in the staging folder, once the run is decided
LARGEST = 20_000_000  # bytes of it
_NAME = re.compile(rf"{re.escape(STAGING)}[a-z0-9_]{{8}}")  # as tempfile names it
Proof = Callable[[Path], list[str]]
Move = tuple[str, str, str]  # from (empty: what is staged), to, digest of what is moved or replaced


@contextmanager
def at_work_in(folder: Path) -> Iterator[None]:
    """Make a folder if it is not there, keep other runs out, complete one that was killed.

    Raises:
        PartgenError: the folder cannot be written.
    """
    try:
        if folder.exists() and not folder.is_dir():
            raise PartgenError(f"{folder}: is a file, no folder; choose another place")
        folder.mkdir(parents=True, exist_ok=True)
        with locked(folder):
            _finish_earlier(folder)
            yield
    except OSError as error:
        raise PartgenError(f"{folder}: cannot be written: {error.strerror or error}") from None


def put(
    folder: Path,
    files: Mapping[str, bytes],
    aside: Sequence[Move] = (),
    proof: Proof | None = None,
) -> None:
    """Put files into a folder that is worked in (:func:`at_work_in`), all or none.

    Args:
        folder: where.
        files: content by path in it, in the order of their moves; a file keeps its mode.
        aside: what is moved away first.
        proof: reads the staged files back and returns what is wrong with them.

    Raises:
        OSError: something cannot be written; the folder is as it was.
        PartgenError: a link leads out of the folder, nothing was moved; or a decided move fails,
            the next run completes it.
        RuntimeError: the proof finds a fault (a mistake in partgen); nothing was moved.
    """
    moves = [*aside, *(("", name, _digest_at(folder / name)) for name in files)]
    _refuse_outside(folder, moves)
    staging = Path(tempfile.mkdtemp(prefix=STAGING, dir=folder))
    try:
        for name, content in files.items():
            target = staging / name
            target.parent.mkdir(parents=True, exist_ok=True)
            _write(target, content)
            if (folder / name).is_file():
                shutil.copymode(folder / name, target)
        faults = proof(staging) if proof else []
        if faults:
            raise RuntimeError("the files failed their own check: " + "; ".join(faults))
        _decide(staging, moves)
    except BaseException:
        shutil.rmtree(staging, ignore_errors=True)
        raise
    _move(folder, staging)


def _digest_at(place: Path) -> str:
    return digest(place.read_bytes()) if place.is_file() else ""


def _write(target: Path, content: bytes) -> None:
    with target.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _refuse_outside(folder: Path, moves: Sequence[Move]) -> None:
    places = {place for source, target, _ in moves for place in (source, target)}
    wrong = sorted(place for place in places if not is_inside(folder, folder / place))
    if wrong:
        raise PartgenError(
            [f"{folder / p}: a link leads out of the folder; remove it" for p in wrong]
        )


def _decide(staging: Path, moves: Sequence[Move]) -> None:
    _write(staging / f"{MOVES}.new", json.dumps(moves).encode("utf-8"))
    os.replace(staging / f"{MOVES}.new", staging / MOVES)


def _finish_earlier(folder: Path) -> None:
    """Complete the moves of a run that was killed; clear away one that was not decided."""
    for staging in sorted(folder.glob(f"{STAGING}*")):
        ours = _NAME.fullmatch(staging.name)
        if ours and staging.is_dir() and not staging.is_symlink():
            if (staging / MOVES).exists():
                _move(folder, staging)
            else:
                shutil.rmtree(staging, ignore_errors=True)


def _move(folder: Path, staging: Path) -> None:
    """Do the decided moves; those that are done already are passed over."""
    for source, target, old in _decided(folder, staging):
        there = folder / source if source else staging / target
        try:
            if there.exists() and (not source or _digest_at(there) == old):
                if not source:
                    _refuse_changed(folder / target, old, there)
                (folder / target).parent.mkdir(parents=True, exist_ok=True)
                os.replace(there, folder / target)
        except OSError as error:
            raise PartgenError(
                f"{folder / target}: cannot be put in its place: {error.strerror or error}; close "
                "whatever holds it and run again, the rest follows then"
            ) from None
    shutil.rmtree(staging, ignore_errors=True)


def _refuse_changed(place: Path, old: str, staged: Path) -> None:
    """Refuse to replace what somebody changed after the moves were decided."""
    found = _digest_at(place)
    if found and found != old and found != _digest_at(staged):
        raise PartgenError(
            f"{place}: changed since a run that was stopped halfway; move it away and run again, "
            "the rest follows then"
        )


def _decided(folder: Path, staging: Path) -> list[Move]:
    """Return the moves as written; a list that is not ours is refused."""
    try:
        found = json.loads(file_content(staging / MOVES, LARGEST))
        moves = [(str(source), str(target), str(old)) for source, target, old in found]
    except (OSError, ValueError, TypeError, RecursionError):
        moves = [("", "..", "")]
    if not all(
        is_inside(folder, folder / target)
        and is_inside(*((folder, folder / source) if source else (staging, staging / target)))
        for source, target, _ in moves
    ):
        raise PartgenError(f"{staging}: not as partgen left it; move it away and run again")
    return moves


def is_inside(folder: Path, there: Path) -> bool:
    """Tell whether a path lies in a folder, links followed; one that cannot be does not."""
    try:
        return there.resolve().is_relative_to(folder.resolve())
    except (OSError, ValueError, RuntimeError):  # a NUL, half a character, links in a circle
        return False
