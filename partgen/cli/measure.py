"""``partgen measure``."""

from __future__ import annotations

from pathlib import Path

import click

from partgen.cli.options import AS_JSON, PATH


@click.command(short_help="What to measure for a job; checks tape readings.")
@click.argument("job_file", type=PATH)
@click.option("--csv", type=PATH, help="Also write the form for a spreadsheet; a new file.")
@click.option(
    "--as-built",
    "sheet",
    type=PATH,
    help="Compare a filled-in as-built.csv of make with the job's targets instead.",
)
@AS_JSON
@click.pass_context
def measure(
    ctx: click.Context, job_file: Path, csv: Path | None, sheet: Path | None, as_json: bool
) -> None:
    """Print what to measure for JOB_FILE, numbered, and check its point-to-point readings.

    With --as-built: target, measured, difference of the finished job, from the sheet you filled in.

    Exit status 1 if readings of a [net.NAME] do not agree, or a measured value is out of its
    tolerance; nothing is ever corrected.
    """
    ctx.meta["as_json"] = as_json
    if sheet is not None and csv is not None:
        raise click.UsageError("give --csv (the form to measure by) or --as-built, not both")
    if sheet is not None:
        ctx.exit(_as_built(job_file, sheet, as_json))
    from partgen.printing.measured import measured
    from partgen.tasks import measuring

    found = measuring.measuring(job_file)
    if csv is not None:
        measuring.write_form(found.form, csv)
    measured(found, csv, as_json=as_json)
    ctx.exit(int(not found.consistent))


def _as_built(job_file: Path, sheet: Path, as_json: bool) -> int:
    from partgen.printing.as_built import as_built
    from partgen.tasks.as_built import compared

    found = compared(job_file, sheet)
    as_built(found, as_json=as_json)
    return int(bool(found.out))
