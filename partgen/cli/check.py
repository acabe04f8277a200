"""``partgen check``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from partgen.cli.options import AS_JSON, PATH, SET, pairs

if TYPE_CHECKING:
    from partgen.rules.finding import Finding


@click.command(short_help="Findings: measured, required, margin, source.")
@click.argument("job_file", type=PATH)
@SET
@click.option("--strict", is_flag=True, help="Also fail where no rule covers a feature.")
@click.option("--strength", is_flag=True, help="Also list every mount's screening strength.")
@AS_JSON
@click.pass_context
def check(
    ctx: click.Context,
    job_file: Path,
    changes: tuple[str, ...],
    strict: bool,
    strength: bool,
    as_json: bool,
) -> None:
    """Check JOB_FILE: findings with what is measured, required, left over, and by which source."""
    ctx.meta["as_json"] = as_json
    from partgen.printing.findings import findings as show
    from partgen.tasks import making

    build, findings = making.checked(job_file, pairs(changes))
    show(build, findings, as_json=as_json, strength=strength)
    ctx.exit(int(_fails(findings, strict)))


def _fails(findings: list[Finding], strict: bool) -> bool:
    from partgen.rules.finding import Status

    open_ends = (f for f in findings if strict and f.status is Status.NOT_COVERED)
    return any(f.stops for f in findings) or any(not f.accepted for f in open_ends)
