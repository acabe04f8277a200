"""Small makers for tests of links."""

import numpy as np

from partgen.fields import Reading
from partgen.linkage.axle import Body, Rod, Spot
from partgen.linkage.entry import LinkageEntry
from partgen.linkage.mount_swing import Surroundings
from partgen.linkage.study import study

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


# The arm of the rules' tests: pivot 150 under the rail, 800 long, hub 100 lower, 120 of bump, with a
# web 100 mm behind the pivot that hangs 130 mm down: far into the way of a tube of 44.
JOB = """
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
[[part]]
name = "mount"
family = "link-mount"
rail = "main"
joint = "bush"
pivot = [300, -150]
plate = "6 mm S355"
rear = 160
front = 160
[[part]]
name = "web"
family = "gusset"
mount = "mount"
shape = "trapezoid"
plate = "6 mm S355"
height = 130
far_height = 120
snipe = 12
toe = 6
[[sheet]]
plate = "6 mm S355"
size = [1250, 2500]
[linkage]
axle = "independent"
wheel = [0, 700, 270]
bump = 120
droop = 80
margin = 3
clearance = 6
[linkage.rail.main]
at = [{x}, 500, 520]
[[linkage.link]]
name = "arm"
fixed = true
tube = 44
frame = {{ mount = "mount" }}
axle = {{ at = [0, 500, 270] }}
[[linkage.obstacle]]
part = "web"
mount = "mount"
line = [[200, 0], [200, -130]]
{trim}
"""
RUN = (800**2 - 100**2) ** 0.5
