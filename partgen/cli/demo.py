"""``partgen demo``."""

from __future__ import annotations

from pathlib import Path

import click

from partgen.cli.options import AS_JSON, PATH


@click.command(short_help="Copy the demo jobs, to start from.")
@click.argument("folder", type=PATH, default=Path("demo_parts"))
@AS_JSON
@click.pass_context
def demo(ctx: click.Context, folder: Path, as_json: bool) -> None:
    """Copy the demo jobs to FOLDER, to start from; files already there are left alone."""
    ctx.meta["as_json"] = as_json
    from partgen.printing.copied import copied
    from partgen.tasks import demos

    copied(demos.copy(folder), folder, as_json=as_json)
