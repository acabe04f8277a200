"""``partgen linkage``."""

from __future__ import annotations

from pathlib import Path

import click

from partgen.cli.options import AS_JSON, PATH, SET, pairs


@click.command(short_help="Where the links go: travel, angles, lengths.")
@click.argument("job_file", type=PATH)
@SET
@click.option(
    "--bump-angle",
    metavar="DEG",
    help="Also say how far to lower each frame end for this side angle at full bump.",
)
@AS_JSON
@click.pass_context
def linkage(
    ctx: click.Context,
    job_file: Path,
    changes: tuple[str, ...],
    bump_angle: str | None,
    as_json: bool,
) -> None:
    """Work out where the links of JOB_FILE go: travel, angles, lengths, joints.

    Positions, angles and limits only: no forces, no strength.
    """
    ctx.meta["as_json"] = as_json
    from partgen.printing.linkage import linkage as show
    from partgen.tasks import linking

    result = linking.link_up(job_file, pairs(changes), bump_angle)
    show(result.name, result.study, result.drops, result.bump_angle, result.unit, as_json=as_json)
