"""Mutants that no test can notice, and why; ``mutation.py`` passes over these and no others."""

CHOICE = "at the limit itself, which is a choice, either answer is right"

# file: {the mutant's text: why no test can notice it}
REASONS: dict[str, dict[str, str]] = {
    "partgen/fit/fit.py": {
        "2 -> 3": "most_plates: more than one is more than one",
        "20 -> 21": "lengths of lists, chosen freely",
        "False -> True": "the same for all that fall short",
        "0 -> 1": "the same for all that fall short",
        "6 -> 7": "digits a sum is rounded to before it is ranked",
    },
    "partgen/geometry/belt.py": {
        "not pin.blend or abs(turn) <= FLAT -> False": "a blend of nothing gives the corner itself",
        "not pin.blend or abs(turn) <= FLAT -> not pin.blend and abs(turn) <= FLAT": "likewise",
        "wrap.bulge -> True": "doubled points are dropped by Outline.of",
        "0.0 -> 1.0": "the bulge of a point without length is dropped by Outline.of",
        "0 -> 1": "a turn between 0 and 1 with a radius of that sign is met by no straight edge",
        "turn > 0 -> turn >= 0": "turns within FLAT are passed over before",
        "pin.radius > 0 -> pin.radius >= 0": "a radius of 0 is passed over before",
        "abs(turn) > 1.6 * pi -> abs(turn) >= 1.6 * pi": "the limit itself is arbitrary",
        "room < -1e-09 -> room <= -1e-09": "a tolerance",
        "1e-09 -> 0.001": "a tolerance",
        "away <= abs(a.radius - b.radius) -> away < abs(a.radius - b.radius)": "both are refused: "
        "a tangent of no length crosses itself",
    },
    "partgen/geometry/outline.py": {
        "s.bulge -> True": "a line has radius 0, and its middle lies on itself",
        "s.bulge > 0 -> s.bulge >= 0": "lines are passed over before",
        "0 -> 1": "either half of a circle has the same centre",
        "outline.area < 0 -> outline.area <= 0": "no area is refused next",
        "2 -> 3": "a finer view of an arc is as good",
        "abs(a.bulge - b.bulge) <= tolerance -> abs(a.bulge - b.bulge) < tolerance": "a tolerance",
        "hypot(a.x - b.x, a.y - b.y) <= tolerance -> hypot(a.x - b.x, a.y - b.y) < tolerance": "a tolerance",
    },
    "partgen/rules/inside_corner.py": {
        "way * turn(segments[k - 1], s) > SHARP -> way * turn(segments[k - 1], s) >= SHARP": CHOICE,
        "_swept(segments, k) >= ROUND_END -> _swept(segments, k) > ROUND_END": CHOICE,
    },
    "partgen/rules/neck.py": {
        "apart >= least -> apart > least": "boxes as far apart as the best hold nothing nearer",
        "width >= least -> width > least": "of two necks equally wide either may be shown",
    },
    "partgen/rules/on_rail.py": {
        "abs(h - middle) <= PARALLEL -> abs(h - middle) < PARALLEL": CHOICE,
        "middle < self.rail.depth / 2 -> middle <= self.rail.depth / 2": "halfway up the shelf is "
        "the same both ways",
    },
    "partgen/rules/plate_end.py": {"measured > ALONG -> measured >= ALONG": CHOICE},
    "partgen/rules/weld_shelf.py": {
        "limits.values.flange_keep_out > required -> limits.values.flange_keep_out >= required": "both "
        "ask for the same",
    },
}
