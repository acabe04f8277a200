"""``partgen measure``."""

from __future__ import annotations

from pathlib import Path

import click

from partgen.cautions import SHORT
from partgen.cli.options import AS_JSON, PATH


@click.command(epilog=SHORT)
@click.argument("job_file", type=PATH)
@click.option("--csv", type=PATH, help="Also write the form for a spreadsheet; a new file.")
@AS_JSON
@click.pass_context
def measure(ctx: click.Context, job_file: Path, csv: Path | None, as_json: bool) -> None:
    """Print what to measure for JOB_FILE, numbered, and check its point-to-point readings.

    Exit status 1 if readings of a [net.NAME] do not agree; nothing is ever corrected.
    """
    ctx.meta["as_json"] = as_json
    from partgen.printing.measured import measured
    from partgen.tasks import measuring

    found = measuring.measuring(job_file)
    if csv is not None:
        measuring.write_form(found.form, csv)
    measured(found, csv, as_json=as_json)
    ctx.exit(int(not found.consistent))
