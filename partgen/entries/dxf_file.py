"""A DXF file that a job names: it lies beside the job file or below it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from partgen.errors import PartgenError
from partgen.fields import Reading
from partgen.file_content import LARGEST_DRAWN, beside


@dataclass(frozen=True)
class Drawn:
    """A DXF file beside the job.

    Attributes:
        name: as typed.
        data: the whole file.
    """

    name: str
    data: bytes = field(repr=False)


def drawn(value: object, info: ValidationInfo) -> Drawn:
    """Return the file called ``value`` in the folder of the job being read.

    Raises:
        ValueError: it is no name of a file there.
    """
    if isinstance(value, Drawn):
        return value
    if not isinstance(value, str):
        raise ValueError("write the name of a DXF file in quotes")
    folder = info.context.folder if isinstance(info.context, Reading) else None
    try:
        return Drawn(name=value, data=beside(folder, value, LARGEST_DRAWN, "drawing"))
    except PartgenError as error:
        raise ValueError(f"'{value[:60]}': {error}") from None


FILE_SCHEMA = {
    "type": "string",
    "description": "a DXF file in the job's folder: 'drawn/strap.dxf'",
}
DxfFile = Annotated[Drawn, BeforeValidator(drawn), WithJsonSchema(FILE_SCHEMA)]
