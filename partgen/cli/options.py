"""What the commands share: options, and reading NAME=VALUE."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from partgen.errors import PartgenError


class _Path(click.Path):
    """A file or folder; nothing typed would else be the current folder."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the path."""
        if value == "":
            self.fail("is empty; name a file or folder", param, ctx)
        return super().convert(value, param, ctx)


PATH = _Path(path_type=Path)
AS_JSON = click.option("--json", "as_json", is_flag=True, help="Print data instead of text.")
SET = click.option(
    "--set", "changes", multiple=True, metavar="NAME=VALUE", help="Use another value for a measure."
)
VERSION = click.option(
    "--dxf",
    "version",
    type=click.Choice(["R2000", "R12"]),
    default="R2000",
    show_default=True,
    help="DXF version to write.",
)
SECONDS = click.option(
    "--seconds", type=float, metavar="N",
    help="Search this long for a tighter layout; Ctrl-C keeps the best so far. Without: the same "
    "job gives the same sheets.",
)  # fmt: skip
FRESH = click.option(
    "--fresh", is_flag=True, help="Lay the sheets out anew, not as last time in this folder."
)

_CUT = (
    click.option("--kerf", metavar="profile|WIDTH", help="Compensate the kerf in the files: the "
                 "cutting profile's, or a width as 1.6mm. Then set none at the machine."),
    click.option("--leads", is_flag=True, help="Draw lead-ins and lead-outs on their own layer."),
    click.option("--clockwise", is_flag=True, help="Run outside edges clockwise and openings "
                 "anticlockwise in the DXF files, as the usual swirl of plasma asks and as motion "
                 "programs always do; verify on your machine."),
    click.option("--joints", type=int, default=0, metavar="N",
                 help="Hold each plate by N micro-joints in its outside edge."),
    click.option("--one-layer", is_flag=True, help="All cuts on one layer, not by operation."),
    click.option("--text", is_flag=True, help="Scribe identity, revision, hand and face up."),
    click.option("--cool", metavar="DISTANCE", help="Skip neighbours: what lies nearer than this "
                 "to the loop just cut waits while another can be cut; as 60mm."),
    click.option("--order", is_flag=True, help="Number the cuts in the sheets' pictures, each at "
                 "its pierce."),
    click.option("--png", type=int, metavar="WIDTH", help="The sheets' pictures as PNG too, this "
                 "many pixels wide."),
    click.option("--motion", metavar="POST", help="Also write motion programs (G words), kerf "
                 "compensated, by a post profile: 'plain', or a file of your own."),
)  # fmt: skip


def cut_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the options of the cut files to a command."""
    for option in reversed(_CUT):
        command = option(command)
    return command


def pairs(texts: tuple[str, ...], option: str = "--set") -> dict[str, str]:
    """Return NAME=VALUE texts as a dictionary.

    Raises:
        PartgenError: a text is no such pair.
    """
    found: dict[str, str] = {}
    for text in texts:
        name, equals, value = text.partition("=")
        if not equals or not name.strip() or not value.strip():
            raise PartgenError(f"{option} {text}: write NAME=VALUE")
        found[name.strip()] = value.strip()
    return found
