"""``partgen families``."""

from __future__ import annotations

from pathlib import Path

import click

from partgen.cli.options import AS_JSON, PATH


@click.command(short_help="What can be made; the keys of a family.")
@click.argument("family", required=False)
@click.option("--svg", type=PATH, metavar="FILE", help="Also write a drawing of FAMILY.")
@AS_JSON
@click.pass_context
def families(ctx: click.Context, family: str | None, svg: Path | None, as_json: bool) -> None:
    """List the families of parts, or the parameters of FAMILY."""
    ctx.meta["as_json"] = as_json
    from partgen.printing.families import families as show

    show(family, as_json=as_json, svg=svg)
