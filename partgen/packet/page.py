"""``packet.html``: one page, nothing beside it needed, for phone, screen and paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import fsum

from partgen import __version__
from partgen.cautions import CAUTIONS
from partgen.cut.ready import Ready
from partgen.fit.fit import pad_text
from partgen.job.build import Build
from partgen.measure import UNIT_WORDS, kerf_text, length_text, shown
from partgen.packet.as_built import as_built_section
from partgen.packet.assembly_section import assembly_section
from partgen.packet.findings_section import findings_section
from partgen.packet.fit_section import fit_section
from partgen.packet.fit_up import fit_up_section
from partgen.packet.hardware import Item
from partgen.packet.html import Content, Html, bullets, inside, section, table, tag
from partgen.packet.linkage_section import linkage_section
from partgen.packet.list_sections import cut_section, hardware_section, sheets_section
from partgen.packet.mass import mass_text
from partgen.packet.page_style import STYLE
from partgen.packet.plates_section import plates_section
from partgen.packet.strength_section import strength_section
from partgen.packet.time_section import time_section, tolerance_section
from partgen.packet.verdict import verdict
from partgen.packet.weld_map_section import weld_map_section
from partgen.packet.weld_notes import weld_section
from partgen.rules.finding import Finding
from partgen.sheets.cut_plans import Asked, SheetPlan
from partgen.sheets.nest import Nest

FILE = "packet.html"
STOPPED = "STOPPED BY A RULE: NOT FOR CUTTING"
WHY = "A rule fails and is not accepted in the job. No cut files were written."
PAPER = (
    "On paper: what is needed to mend it. Lists, weld map, fit-up order and the rest: on screen."
)
# No script, no address: the page can load nothing.
POLICY = "default-src 'none'; style-src 'unsafe-inline'; form-action 'none'; base-uri 'none'"


@dataclass(frozen=True)
class OnTable:
    """A job's plates on the cutting table.

    Attributes:
        ready: as they are cut.
        plans: how each sheet is cut; none if a rule stops the job.
        kerf: compensated in the DXF files; 0 for nominal ones [mm].
        asked: what the sheets' pictures show.
    """

    ready: Ready
    plans: Sequence[SheetPlan] = ()
    kerf: float = 0.0
    asked: Asked = field(default_factory=Asked)


def packet_page(
    build: Build,
    findings: Sequence[Finding],
    nests: Sequence[Nest],
    items: Sequence[Item],
    on_table: OnTable,
) -> bytes:
    """Return the page of a job.

    Args:
        build: mounts and plates.
        findings: what the rules say; one that stops the job stamps every page.
        nests: layouts; none if a rule stops the job.
        items: hardware to buy.
        on_table: how its plates are cut.
    """
    stopped = any(f.stops for f in findings)
    unit = build.job.unit
    pieces = sum(p.count for p in on_table.ready.build.plates)
    first = verdict(findings, pieces, _sheets(nests))
    parts = [
        ("Findings", "findings", findings_section(build, findings)),
        ("Plates", "plates", plates_section(build)),
        ("Put together", "assembly", assembly_section(build)),
        ("Fit", "fit", fit_section(build)),
        ("Strength", "strength", strength_section(build)),
        ("Links", "linkage", linkage_section(build)),
        ("Hardware", "hardware", hardware_section(items)),
        ("Cut list", "cut-list", cut_section(on_table.ready)),
        ("Sheets", "sheets", sheets_section(on_table.plans, unit, on_table.asked)),
        ("Cutting time", "time", time_section(on_table.ready, on_table.plans)),
        ("Tolerances", "tolerances", tolerance_section(on_table.ready)),
        ("Weld map", "weld-map", weld_map_section(build)),
        ("Weld notes", "weld", weld_section(build)),
        ("Fit-up order", "fit-up", fit_up_section(build)),
        ("As-built sheet", "as-built", as_built_section(build)),
    ]
    there = [part for part in parts if part[-1]]
    foot = f"partgen {__version__}, from {build.job.path.name}. Screening only."
    body = tag(
        "body",
        *_head(build, first, stopped, there),
        _cautions(),
        _summary(on_table.ready.build, nests, on_table.kerf),
        *(part for *_, part in there),
        tag("footer", foot),
        class_="stopped" if stopped else "whole",
    )
    return _document(build.job.name, body)


def _document(title: str, body: Html) -> bytes:
    head = tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("meta", http_equiv="Content-Security-Policy", content=POLICY),
        tag("title", title),
        tag("style", Html(STYLE)),
    )
    return inside(Html("<!doctype html>\n"), tag("html", head, body, lang="en"), "\n").encode(
        "utf-8"
    )


def _head(
    build: Build, first: Html, stopped: bool, parts: Sequence[tuple[str, str, Html]]
) -> list[Content]:
    links = (tag("a", title, href=f"#{anchor}") for title, anchor, _ in parts)
    top: list[Content] = [tag("h1", build.job.name), first]
    if stopped:
        top.append(tag("p", STOPPED, ". ", WHY, class_="stop"))
        top.append(tag("p", PAPER, class_="on-paper"))
        top.append(tag("div", STOPPED, class_="stamp", aria_hidden="true"))
    top.append(tag("nav", bullets(links)))
    return top


def _cautions() -> Html:
    return section("Before you cut or weld", "cautions", bullets(CAUTIONS, class_="caution"))


def _sheets(nests: Sequence[Nest]) -> int:
    """Return how many sheets carry plates."""
    return sum(len(nest.layout.used) for nest in nests)


def _summary(build: Build, nests: Sequence[Nest], kerf: float) -> Html:
    job, shop = build.job, build.shop
    size = "nominal, kerf not compensated"
    if kerf:
        size = f"kerf {kerf_text(kerf, job.unit)} compensated there: set none at the machine"
    sheets = _sheets(nests)
    mass = mass_text(fsum(p.mass * p.count for p in build.plates), job.unit)
    rows: list[tuple[Content, ...]] = [
        ("file", job.path.name),
        ("lengths", f"in {UNIT_WORDS[job.unit]}, also in the DXF files; {size}"),
        ("cutting", f"{shop.cutting.name} ({shop.cutting.source})"),
        ("rules", shop.rule_set.title),
        ("plates", f"{sum(p.count for p in build.plates)}, {mass}, on {sheets} sheets"),
    ]
    for mount in build.mounts:
        fit = mount.fit
        inner, outer = pad_text(fit.inner, job.unit), pad_text(fit.outer, job.unit)
        words = (
            f"gap {shown(fit.gap, job.unit)}, spacers {inner} inner, {outer} outer, clearance "
            f"{shown(fit.clearance, job.unit)}"
        )
        rows.append((mount.name, words))
    for name, value in job.measures.items():
        figure = length_text(value, job.unit).removesuffix(f" {job.unit}")
        rows.append((f"measure {name}", f"{figure}{job.unit_of(name)}"))
    return section("The job", "job", table(("", ""), rows, narrow=True))
