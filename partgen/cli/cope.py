"""``partgen cope``."""

from __future__ import annotations

from pathlib import Path

import click

from partgen.cli.options import AS_JSON, PATH


@click.command(short_help="A wrap-around paper template for a tube's end.")
@click.option("--tube", required=True, metavar="LENGTH", help="Outside diameter of the coped tube.")
@click.option("--onto", required=True, metavar="LENGTH", help="Outside diameter it sits on.")
@click.option("--angle", default="90", show_default=True, help="Between the axes.")
@click.option(
    "--offset",
    metavar="LENGTH",
    help="Of this axis, to the right of the other: seam in front, other tube above.",
)
@click.option("--wall", metavar="LENGTH", help="Of the coped tube; default only the outside.")
@click.option("--units", type=click.Choice(["mm", "in"]), default="mm", show_default=True)
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True)
@click.option("--out", type=PATH, default="cope.pdf", show_default=True, help="PDF to write.")
@AS_JSON
@click.pass_context
def cope(
    ctx: click.Context,
    tube: str,
    onto: str,
    angle: str,
    offset: str | None,
    wall: str | None,
    units: str,
    paper: str,
    out: Path,
    as_json: bool,
) -> None:
    """Draw a wrap-around paper template for a tube's end that sits on another tube."""
    ctx.meta["as_json"] = as_json
    from partgen.printing.cope import cope as show
    from partgen.tasks import linking

    typed = {"tube": tube, "onto": onto, "angle": angle, "offset": offset, "wall": wall}
    cut = linking.read_cope(typed, units)
    pages = linking.write_cope(cut, out, "letter" if paper == "letter" else "a4", units)
    show(cut, out, pages, units, as_json=as_json)
