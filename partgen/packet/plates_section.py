"""Every plate on the page: what it is, how many, and its drawing with dimensions."""

from __future__ import annotations

from partgen.job.build import Build
from partgen.measure import length_text
from partgen.packet.drawing import Drawing, drawing
from partgen.packet.html import Html, picture, section, tag
from partgen.packet.mass import mass_text
from partgen.packet.rail_line import face_up, forward, rail_line
from partgen.plates.plate import Plate

HANDS = {"left": "left hand", "right": "right hand", "same": "same on both sides"}
WIDEST, NARROWEST = 140.0, 80.0  # mm on paper
NOTE = (
    "Zero is the heavy line: the longest edge a straightedge can be laid against, and square to it "
    "the plate's own edge there or, dashed, the line that touches the plate. Sizes are nominal, "
    "before kerf. A letter beside a line is spelled out below the drawing."
)


def plates_section(build: Build) -> Html:
    """Return every plate, in the job's order."""
    articles = [_article(plate, build) for plate in build.plates]
    return section("Plates", "plates", tag("p", NOTE), tag("div", *articles, class_="plates"))


def plate_facts(plate: Plate, unit: str) -> str:
    """Return what a title block says: count, stock, hand, mass; the drawing gives the sizes."""
    each = " each" if plate.count > 1 else ""
    revision = f", revision {plate.revision}" if plate.revision else ""
    stock = f"{length_text(plate.thickness, unit)} {plate.material.name}"
    mass = f"{mass_text(plate.mass, unit)}{each}"
    return f"{plate.count} x {stock}, {HANDS[plate.hand]}, {mass}{revision}"


def view_text(plate: Plate, build: Build) -> str:
    """Return which face a drawing shows, and which way is forward if that is known."""
    way = forward(plate, build)
    return f"You see the {face_up(plate, build)}" + (f"; forward is to the {way}." if way else ".")


def plate_drawing(plate: Plate, build: Build) -> Drawing:
    """Return the dimensioned drawing of one plate of a job."""
    return drawing(plate, build.job.unit, rail_line(plate, build))


def _article(plate: Plate, build: Build) -> Html:
    made = plate_drawing(plate, build)
    width = min(WIDEST, max(NARROWEST, 1.2 * (made.right - made.left)))
    facts = plate_facts(plate, build.job.unit)
    return tag(
        "article",
        tag("h3", plate.label),
        tag("p", facts),
        picture(made.svg(f"{plate.label}: {facts}"), view_text(plate, build), width),
        class_="plate",
    )
