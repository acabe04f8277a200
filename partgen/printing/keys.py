"""The keys of a table of the job file: unit, default, limits, what they mean."""

from __future__ import annotations

from pydantic import BaseModel

from partgen.errors import PartgenError, nearest
from partgen.families.part import Part
from partgen.job.job import JobFile
from partgen.job.parameters import Parameter, entries, parameters
from partgen.printing.text import plain, table

HEAD = ("key", "unit", "default", "limits", "")
ELSEWHERE = "features"  # long, and the same in every part


def tables() -> dict[str, type[BaseModel]]:
    """Return the tables of a job file by the word they are asked for; parts have families."""
    return {**entries(JobFile), ELSEWHERE: entries(Part)[ELSEWHERE]}


def print_table(name: str) -> None:
    """Print what a table of the job file may hold.

    Raises:
        PartgenError: no such table.
    """
    known = tables()
    if name not in known:
        hint = "see partgen families" if name == "part" else nearest(name, known)
        raise PartgenError(f"table '{name}' is not known; {hint}")
    print(plain((known[name].__doc__ or "").strip().splitlines()[0]) + "\n")
    print_keys(parameters(known[name]))


def print_keys(found: list[Parameter], inside: str = "") -> None:
    """Print keys in columns, then the keys of the tables they hold."""
    table([HEAD, *map(_row, found)])
    for parameter in found:
        if parameter.entry is None or parameter.name == ELSEWHERE:
            continue
        name = f"{inside}{parameter.name}"
        print(f"\n{name} = {parameter.form}")
        print_keys(parameters(parameter.entry), f"{name}.")


def _row(p: Parameter) -> tuple[str, ...]:
    text = plain(p.text) + (", see partgen schema features" if p.name == ELSEWHERE else "")
    return (p.name, p.unit, p.default, p.limits, text)
