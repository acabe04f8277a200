"""Mutants that no test can notice, and why; ``mutation.py`` passes over these and no others."""

# file: {"function: the mutant's text", no function outside of one: why no test can notice it}
REASONS: dict[str, dict[str, str]] = {
    "partgen/fit/fit.py": {
        "MOST_OPTIONS = 20 -> MOST_OPTIONS = 21": "lengths of lists, chosen freely",
        "MOST_STACKED = 20 -> MOST_STACKED = 21": "lengths of lists, chosen freely",
        "2 -> 3": "most_plates: more than one is more than one",
        "_rank: round(least, 6) -> round(least, 7)": "digits a sum is rounded to before it is ranked",
        "_rank: 0 if short else _stacked(fit) -> 1 if short else _stacked(fit)": "the same for all "
        "that fall short",
    },
    "partgen/fit/mount.py": {
        "Mount.ear_gap: self.bolts[0] -> self.bolts[1]": "every length goes through the same ears",
    },
    "partgen/geometry/belt.py": {
        "_wrap: not pin.blend or abs(turn) <= FLAT -> False": "a blend of nothing gives the corner",
        "_wrap: not pin.blend or abs(turn) <= FLAT -> not pin.blend and abs(turn) <= FLAT": "likewise",
        "_wrap: _Wrap((pin.x, pin.y), (pin.x, pin.y), 0.0) -> "
        "_Wrap((pin.x, pin.y), (pin.x, pin.y), 1.0)": "doubled points are dropped by Outline.of",
        "belt: wrap.bulge -> True": "doubled points are dropped by Outline.of",
        "_round_pin: tan(turn / 4) if abs(turn) > FLAT else 0.0 -> "
        "tan(turn / 4) if abs(turn) > FLAT else 1.0": "doubled points are dropped by Outline.of",
        "_round_pin: turn > 0 -> turn >= 0": "turns within FLAT are passed over before",
        "_round_pin: pin.radius > 0 -> pin.radius >= 0": "a radius of 0 is passed over before",
        "_round_pin: abs(turn) > 1.6 * pi -> abs(turn) >= 1.6 * pi": "the limit itself is arbitrary",
        "_need_room: room < -1e-09 -> room <= -1e-09": "a tolerance",
        "_need_room: -1e-09 -> -0.001": "a tolerance",
        "_tangent: away <= abs(a.radius - b.radius) -> away < abs(a.radius - b.radius)": "both are "
        "refused: a tangent of no length crosses itself",
    },
    "partgen/geometry/outline.py": {
        "Outline.centroid: s.bulge -> True": "a line has radius 0",
        "Outline.polygon: s.bulge -> True": "a line's middle lies on itself",
        "Outline.polygon: s.bulge > 0 -> s.bulge >= 0": "lines are passed over before",
        "Outline.of: outline.area < 0 -> outline.area <= 0": "no area is refused next",
        "Outline.circle_of: self.segments[0] -> self.segments[1]": "either half of a circle has the "
        "same centre",
        "_steps: max(2, ceil(abs(s.sweep) / (2 * acos(ratio)))) -> "
        "max(3, ceil(abs(s.sweep) / (2 * acos(ratio))))": "a finer view of an arc is as good",
        "_near: abs(a.bulge - b.bulge) <= tolerance -> abs(a.bulge - b.bulge) < tolerance": "a "
        "tolerance",
        "_near: hypot(a.x - b.x, a.y - b.y) <= tolerance -> "
        "hypot(a.x - b.x, a.y - b.y) < tolerance": "a tolerance",
    },
    "partgen/rules/screened.py": {
        "unjudged: Screened(mount.name, plate, None, 1.0, side, mode, why) -> "
        "Screened(mount.name, plate, None, 2.0, side, mode, why)": "what cannot be judged has no share",
    },
    "partgen/rules/screen_weld.py": {
        "STATIONS = 24 -> STATIONS = 25": "how many sections, chosen freely",
        "_sections: range(1, STATIONS + 1) -> range(2, STATIONS + 1)": "nearest to the bolt the arm "
        "is a 24th of the whole: never the weakest section",
    },
    "partgen/strength/column.py": {
        "column: slenderness >= transition(fy, elastic) -> slenderness > transition(fy, elastic)": "both "
        "formulas meet there",
    },
    "partgen/strength/en_pin.py": {
        "least_end: force * GAMMA_M0 -> force / GAMMA_M0": "gamma_M0 is 1",
        "end_force: 2 * thickness * fy / GAMMA_M0 -> 2 * thickness * fy * GAMMA_M0": "gamma_M0 is 1",
        "least_thickness: force * GAMMA_M0 -> force / GAMMA_M0": "gamma_M0 is 1",
        "pin_moment: 0.8 * pin.modulus * pin.fy / GAMMA_M6_SER -> "
        "0.8 * pin.modulus * pin.fy * GAMMA_M6_SER": "gamma_M6,ser is 1",
        "pin_bending: pin_moment(pin) * GAMMA_M0 -> pin_moment(pin) / GAMMA_M0": "gamma_M0 is 1",
    },
    "partgen/strength/fillet_weld.py": {
        "effective_length: slender > 300 -> slender >= 300": "180 legs by both at 300",
    },
    "partgen/strength/reach.py": {
        "_hits: square < 0 -> square <= 0": "a ray that only touches an arc may meet it or not",
    },
}
