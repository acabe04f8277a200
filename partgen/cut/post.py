"""The words a control wants round the motion: a small profile in ``profiles/post``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import Field, StringConstraints, ValidationError

from partgen.errors import ProfileError
from partgen.fields import Entry, Text
from partgen.file_content import file_content, why
from partgen.reference import profile_files
from partgen.toml_text import toml_data

Word = Annotated[str, StringConstraints(pattern=r"^[ -'*-:<-~]{1,60}$")]  # no comment signs
Suffix = Annotated[str, StringConstraints(pattern=r"^\.[a-z0-9]{1,5}$")]


class Post(Entry):
    """How a motion program is written.

    Attributes:
        name: shown at the head of the program.
        source: where the words come from.
        unit: "mm" (G21), "in" (G20) or "job" for the job's own.
        suffix: of the file's name.
        begin: lines before the first motion; unit and G40 and G90 are written by partgen.
        torch_on: arc start.
        dwell: waiting for the pierce; ``{seconds}`` is the time.
        torch_off: arc end.
        end: lines after the last motion.
        comment: signs round a comment.
        places: decimals in mm; one more in inches [-].
    """

    name: Text
    source: Text
    unit: Literal["mm", "in", "job"]
    suffix: Suffix
    begin: tuple[Word, ...] = Field(max_length=50)
    torch_on: Word
    dwell: Word
    torch_off: Word
    end: tuple[Word, ...] = Field(max_length=50)
    comment: tuple[Literal["(", ";"], Literal[")", ""]]
    places: int = Field(ge=4, le=6)  # an arc's ends must agree in radius within 0.002 mm


def post(name: str) -> Post:
    """Return a post profile by its name, or from a file of your own that ends in ``.toml``.

    Raises:
        ProfileError: the profile is unknown, or incomplete.
    """
    own = name.endswith(".toml")
    where = name if own else f"profiles/post/{name}.toml"
    data = _own(name) if own else profile_files.read("post", name)
    try:
        found = Post.model_validate(data)
    except ValidationError as error:
        raise ProfileError(
            [f"{where}: {'.'.join(str(p) for p in e['loc'])}: {e['msg']}" for e in error.errors()]
        ) from None
    if "{seconds}" not in found.dwell:
        raise ProfileError(f"{where}: dwell: '{found.dwell}' has no {{seconds}}; write it in")
    return found


def _own(name: str) -> dict[str, Any]:
    try:
        return toml_data(file_content(Path(name), kind="post profile"), name)
    except OSError as error:
        raise ProfileError(f"{name}: {why(error)}") from None
