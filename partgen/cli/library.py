"""``partgen library``."""

from __future__ import annotations

from pathlib import Path

import click

from partgen.cli.options import AS_JSON


@click.command(short_help="Joints and tube sections a job may take.")
@click.argument("name", required=False)
@click.option("--file", "own", help="Your own library file, here or in your user folder.")
@AS_JSON
@click.pass_context
def library(ctx: click.Context, name: str | None, own: str | None, as_json: bool) -> None:
    """List joints and tube sections a job may take, or show the record NAME."""
    ctx.meta["as_json"] = as_json
    from partgen.entries import library as libraries
    from partgen.printing.library import library as show

    show(libraries.library(own, Path()), name, as_json=as_json)
