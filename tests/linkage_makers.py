"""Small makers for tests of links."""

from pathlib import Path

import numpy as np

from partgen import rules
from partgen.fields import Reading
from partgen.job.build import build
from partgen.job.job import load_job
from partgen.linkage.axle import Body, Rod, Spot
from partgen.linkage.entry import LinkageEntry
from partgen.linkage.mount_swing import Surroundings
from partgen.linkage.study import study

ROOT = Path(__file__).parents[1]

# The computed four-link set (two independent methods agree; no textbook prints one). Inches.
LOWER = ((0, 22, 12), (30, 14, 15))  # axle end, frame end
UPPER = ((-1, 4, 22), (23, 16, 21))


def rods(name, axle, frame, sides=(1, -1)):
    return [
        Rod(name, Spot(np.array(frame, float) * [1, s, 1], False),
            Spot(np.array(axle, float) * [1, s, 1], True))
        for s in sides
    ]  # fmt: skip


def four_link():
    links = (*rods("lower", *LOWER), *rods("upper", *UPPER))
    return Body(np.array([0.0, 0.0, 18.0]), links, half_track=30.0)


def entry(unit="mm", **data):
    return LinkageEntry.model_validate(data, context=Reading(unit))


def link(name, axle, frame, **more):
    return {"name": name, "tube": 1, "axle": {"at": axle}, "frame": {"at": frame}, **more}


def worked(unit="mm", **data):
    return study(entry(unit, **data), Surroundings({}, {}, {}))


# A wheel on its own arm: pivot 150 mm under a straight rail at z = 520, arm 800 mm, hub 100 mm lower.
RUN = (800**2 - 100**2) ** 0.5
ARM = """
[job]
name = "arm"
units = "mm"
[rail.main]
width = {rail}
depth = 100
corner_radius = 8
[joint.bush]
width = {joint}
body_diameter = 64
bolt = "M16"
max_misalignment = 8
[[part]]
name = "mount"
family = "link-mount"
rail = "main"
joint = "bush"
pivot = [300, -150]
plate = "6 mm S355"
rear = 160
front = 160
{mount}
{parts}
[[sheet]]
plate = "6 mm S355"
size = [1250, 2500]
[linkage]
axle = "independent"
wheel = [0, 700, 270]
bump = {bump}
droop = 80
clearance = {clearance}
spare = {spare}
[linkage.rail.main]
at = [{x}, 500, 520]
[[linkage.link]]
name = "arm"
fixed = true
tube = 44
frame = {{ mount = "mount" }}
axle = {{ at = [0, {hub}, 270] }}
{more}
"""

# A web 100 mm behind the pivot that hangs 130 mm down: far into the way of the arm.
WEB = """
[[part]]
name = "web"
family = "gusset"
mount = "mount"
shape = "trapezoid"
plate = "6 mm S355"
height = {height}
far_height = {far}
snipe = 12
toe = 6
"""


def arm_job(**told):
    """The arm's job file; ``more`` comes after its link, ``parts`` before the sheet."""
    usual = {"rail": 50, "joint": 57, "bump": 120, "clearance": 6, "spare": 2, "hub": 500}
    blank = {"mount": "", "parts": "", "more": ""}
    return ARM.format(**{"x": RUN - 300, **usual, **blank, **told})


def build_text(text, folder):
    """Everything a job file with this text makes."""
    path = Path(folder) / "job.toml"
    path.write_text(text, encoding="utf-8")
    return build(load_job(path))


def findings(text, folder, rule):
    return [f for f in rules.check(build_text(text, folder)) if f.rule == rule]


def rear_job():
    """The buggy's rear links, its axle's ends typed as points."""
    text = (ROOT / "demo_parts" / "hill-trial-buggy-rear-links.toml").read_text(encoding="utf-8")
    lower, upper = 'axle = { mount = "lower-axle-mount" }', 'axle = { mount = "upper-axle-mount", '
    assert lower in text
    assert upper in text
    text = text.replace(lower, 'axle = { at = [0, 470, 320], joint = "bush" }')
    typed = 'axle = { at = [-20, 180, 530], joint = "ball", gap = 70.8, ear_radius = 26, '
    return text.replace(upper, typed)
