"""What the commands share: options, and reading NAME=VALUE."""

from __future__ import annotations

from pathlib import Path

import click

from partgen.errors import PartgenError

PATH = click.Path(path_type=Path)
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
