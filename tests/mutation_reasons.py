"""Mutants that no test can notice, and why; ``mutation.py`` passes over these and no others."""

CHOICE = "at the limit itself, which is a choice, either answer is right"
MORE = "more is looked at, as exactly: slower, the same answer"
FREE = "how many at once or before another way is taken, chosen freely"

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
    "partgen/geometry/nearness.py": {
        "ROUNDING = 1e-06 -> ROUNDING = 1.000001": MORE,
        "ROUNDING = 1e-06 -> ROUNDING = 1.0": MORE,
        "nearest: gaps <= best + ROUNDING -> gaps < best + ROUNDING": "a tolerance",
        "neighbours: away <= reach[k] + ROUNDING -> away < reach[k] + ROUNDING": "a tolerance",
        "neighbours: edges <= edges.min() + ROUNDING -> edges < edges.min() + ROUNDING": "a "
        "tolerance",
        "nearest_pair: every[k] > best + ROUNDING -> every[k] >= best + ROUNDING": "a tolerance",
        "nearest_pair: best + ROUNDING -> best - ROUNDING": "of pairs equally near any is right",
        "_to_lines: np.maximum((way * way).sum(axis=1), 1e-300) -> "
        "np.maximum((way * way).sum(axis=1), 1e-294)": "no edge is so short",
        "_to_arcs: sweep > 0 -> sweep >= 0": "an arc turns",
        "_to_arcs: turn <= sweep -> turn < sweep": "at its end both distances are the same",
        "_to_arcs: turn >= 2 * np.pi + sweep -> turn > 2 * np.pi + sweep": "likewise",
        "between: away > 0 -> away >= 0": "what touches is 0 apart both ways",
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
    "partgen/reference/rule_set.py": {
        "RuleSet._oversized: hole <= table.mm(row, 'standard') + ROUNDED -> "
        "hole < table.mm(row, 'standard') + ROUNDED": CHOICE,
    },
    "partgen/rules/bend_radius.py": {
        "check: mark.angle > 0 -> mark.angle >= 0": "a bend by 0 degrees is none",
    },
    "partgen/rules/edge_distance.py": {
        "_finding: f[2].value or 0.0 -> f[2].value or 1.0": "a size is printed for all edges or none",
    },
    "partgen/rules/gusset_end.py": {
        "check: abs(turn(before, s) - 90) > SQUARE -> abs(turn(before, s) - 90) >= SQUARE": CHOICE,
    },
    "partgen/rules/hole_clearance.py": {
        "check: widest / 2 -> widest * 2": MORE,
        "_of_hole: away > FAR * bolt.tool_diameter -> away >= FAR * bolt.tool_diameter": CHOICE,
    },
    "partgen/rules/hole_spacing.py": {
        "_near: sizes / 2 -> sizes * 2": "which hole is nearest is not asked here",
        "_near: sizes / 2 -> sizes / 3": "which hole is nearest is not asked here",
        "_near: -1 -> -2": "any number below 0 stands for what is left",
    },
    "partgen/rules/inside_corner.py": {
        "inside_corners: way * turn(segments[k - 1], s) > SHARP -> "
        "way * turn(segments[k - 1], s) >= SHARP": CHOICE,
        "inside_corners: _swept(segments, k) >= ROUND_END -> _swept(segments, k) > ROUND_END": CHOICE,
    },
    "partgen/rules/neck.py": {
        "(1000, 1000) -> (1001, 1000)": FREE,
        "(1000, 1000) -> (1000, 1001)": FREE,
        "_pairs: widest < inf -> widest <= inf": "both ways find all pairs that are near",
        "_pairs: widest < inf -> widest > inf": "both ways find all pairs that are near",
        "_near: few[1] - few[0] -> few[1] + few[0]": MORE,
        "_bent: ahead > straight[first] -> ahead >= straight[first]": MORE,
        "_bent: len(straight) - ahead > straight[second] -> "
        "len(straight) - ahead >= straight[second]": MORE,
        "_bent: len(straight) - ahead -> len(straight) + ahead": MORE,
        "_straight_on: np.tile(np.column_stack([sweeps, turns]).ravel(), 2) -> "
        "np.tile(np.column_stack([sweeps, turns]).ravel(), 3)": "a round more is never reached",
        "_straight_on: np.roll(starts, -1) - starts - sweeps + pi -> "
        "np.roll(starts, -1) - starts - sweeps - pi": "the same but for whole turns",
        "_straight_on: [0.0] -> [1.0]": "only differences of headings count",
        **dict.fromkeys(
            (
                "_straight_on: 2 * min(len(segments), FOLLOWED) -> 3 * min(len(segments), FOLLOWED)",
                "_straight_on: min -> max",
            ),
            "a closed edge turns by more within one round",
        ),
        "check: len(plate.outline.segments) > MANY -> len(plate.outline.segments) >= MANY": CHOICE,
        "MANY = 400 -> MANY = 401": CHOICE,
        "neck: apart >= least -> apart > least": "boxes as far apart as the best hold nothing nearer",
        "neck: width >= least -> width > least": "of two necks equally wide either may be shown",
    },
    "partgen/rules/on_rail.py": {
        "OnRail.shelves: abs(h - middle) <= PARALLEL -> abs(h - middle) < PARALLEL": CHOICE,
        "OnRail.shelves: middle < self.rail.depth / 2 -> middle <= self.rail.depth / 2": "halfway up "
        "the shelf is the same both ways",
    },
    "partgen/rules/plate_end.py": {"of_piece: measured > ALONG -> measured >= ALONG": CHOICE},
    "partgen/rules/shared_space.py": {
        "_clashes: a.carrier is not b.carrier -> False": "pieces on two plates do not meet in space",
        "_clashes: common.area > 0 -> common.area >= 0": "what only touches does not meet",
    },
    "partgen/rules/weld_shelf.py": {
        "of_piece: limits.values.flange_keep_out > required -> "
        "limits.values.flange_keep_out >= required": "both ask for the same",
    },
    "partgen/strength/section.py": {
        "np.polynomial.legendre.leggauss(16) -> np.polynomial.legendre.leggauss(17)": "more points are "
        "as exact",
        "_along: pi / 2 -> pi * 2": "16 points are exact to rounding over a half turn too",
        "_along: pi / 2 -> pi / 3": "more pieces are as exact",
        "_along: int(abs(s.sweep) // (pi / 2)) + 1 -> int(abs(s.sweep) // (pi / 2)) + 2": "more pieces "
        "are as exact",
    },
    "partgen/strength/weld_line.py": {
        **dict.fromkeys(
            (
                "WeldLine.out_of_plane: max(ix * iy, 1e-12) -> max(ix * iy, 1e-06)",
                "WeldLine.out_of_plane: max(ix * iy, 1e-12) -> max(ix * iy, 1.000000000001)",
                "WeldLine._on_one_line: max(abs(mx), abs(my), 1e-12) -> max(abs(mx), abs(my), 1e-06)",
                "WeldLine._on_one_line: max(abs(mx), abs(my), 1e-12) -> "
                "max(abs(mx), abs(my), 1.000000000001)",
            ),
            "a floor under next to no length or moment",
        ),
        **dict.fromkeys(
            (
                "WeldLine._on_one_line: p[0] - cx -> p[0] + cx",
                "WeldLine._on_one_line: p[1] - cy -> p[1] + cy",
                "WeldLine._on_one_line: p[0] -> p[1]",
            ),
            "every point of a straight weld off its centre tells its direction",
        ),
        "_first: not s.bulge -> False": "a line has radius 0, and its middle for a centre",
        "WeldLine.points: STEPS if s.bulge else 1 -> STEPS if s.bulge else 2": "along a line the "
        "greatest is at an end",
        "STEPS = 32 -> STEPS = 33": "a finer look is as good",
        "_first: s.sweep > 0 -> s.sweep >= 0": "lines are passed over before",
        "_second: s.sweep > 0 -> s.sweep >= 0": "lines are passed over before",
        "WeldLine.out_of_plane: root <= 1e-09 * max(ix * iy, 1e-12) -> "
        "root < 1e-09 * max(ix * iy, 1e-12)": "a tolerance",
        "WeldLine._on_one_line: abs(about) > 1e-09 * max(abs(mx), abs(my), 1e-12) -> "
        "abs(about) >= 1e-09 * max(abs(mx), abs(my), 1e-12)": "a tolerance",
    },
}
