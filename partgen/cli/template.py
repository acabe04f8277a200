"""``partgen template``."""

from __future__ import annotations

from pathlib import Path

import click

from partgen.cli.options import AS_JSON, PATH, SET, pairs


@click.command(short_help="Full-scale paper templates of plates.")
@click.argument("job_file", type=PATH)
@click.argument("plates", nargs=-1)
@click.option("--paper", "paper_name", default="a4", show_default=True, help="a4, a3 or letter.")
@click.option(
    "--measured",
    default="",
    metavar="LENGTH",
    help="What the 100 mm bar measures on your print; or two, along the short and the long side "
    "of the sheet: 99.1x99.4.",
)
@click.option("--out", type=PATH, help="PDF file to write; default: JOB-templates.pdf, here.")
@click.option(
    "--made", "made_in", type=PATH, help="Folder that make wrote to: names each plate's revision."
)
@SET
@AS_JSON
@click.pass_context
def template(
    ctx: click.Context,
    job_file: Path,
    plates: tuple[str, ...],
    paper_name: str,
    measured: str,
    out: Path | None,
    made_in: Path | None,
    changes: tuple[str, ...],
    as_json: bool,
) -> None:
    """Print PLATES of JOB_FILE (default: all) at full size, to glue on card and hold to the frame.

    A plate larger than a page runs over several, with overlap and numbered marks.
    """
    ctx.meta["as_json"] = as_json
    from partgen.printing.drawn import drawn_templates
    from partgen.tasks import drawing_files
    from partgen.template.paper import paper

    sheet = paper(paper_name, measured)
    made, stopped = drawing_files.make_templates(job_file, pairs(changes), plates, sheet, made_in)
    file = out or Path(f"{job_file.stem}-templates.pdf")
    drawing_files.write(file.parent, {file.name: made.content})
    drawn_templates(made, file, stopped=stopped, as_json=as_json)
    ctx.exit(int(stopped))
