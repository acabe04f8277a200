"""Single-stroke letters: capitals, digits and a few signs, our own, on a grid 4 wide and 6 high.

A pair of digits is a grid point (x, y), a bar lifts the tool.
"""

from __future__ import annotations

from partgen.geometry.segment import Point

WIDTH, HEIGHT = 4.0, 6.0  # grid units of one letter
STEP, LINE = 5.6, 9.6  # grid units from letter to letter, and from line to line
_GLYPHS = {
    "A": "00 26 40|13 33",
    "B": "00 06 36 45 44 33 42 41 30 00|03 33",
    "C": "45 36 16 05 01 10 30 41",
    "D": "00 06 26 44 42 20 00",
    "E": "46 06 00 40|03 33",
    "F": "46 06 00|03 33",
    "G": "45 36 16 05 01 10 30 41 43 23",
    "H": "00 06|40 46|03 43",
    "I": "10 30|20 26|16 36",
    "J": "01 10 30 41 46",
    "K": "00 06|46 03 40",
    "L": "06 00 40",
    "M": "00 06 23 46 40",
    "N": "00 06 40 46",
    "O": "10 30 41 45 36 16 05 01 10",
    "P": "00 06 36 45 44 33 03",
    "Q": "10 30 41 45 36 16 05 01 10|22 40",
    "R": "00 06 36 45 44 33 03|23 40",
    "S": "45 36 16 05 04 13 33 42 41 30 10 01",
    "T": "20 26|06 46",
    "U": "06 01 10 30 41 46",
    "V": "06 20 46",
    "W": "06 10 23 30 46",
    "X": "00 46|06 40",
    "Y": "06 23 46|23 20",
    "Z": "06 46 00 40",
    "0": "10 30 41 45 36 16 05 01 10|11 35",
    "1": "14 26 20|10 30",
    "2": "05 16 36 45 44 00 40",
    "3": "05 16 36 45 44 33 42 41 30 10 01|13 33",
    "4": "30 36 02 42",
    "5": "46 06 03 33 42 41 30 10 01",
    "6": "36 16 05 01 10 30 41 42 33 03",
    "7": "06 46 10",
    "8": "13 33 44 45 36 16 05 04 13 02 01 10 30 41 42 33",
    "9": "10 30 41 45 36 16 05 04 13 43",
    "-": "13 33",
    "/": "00 46",
    ".": "20 21",
    "+": "03 43|21 25",
    "#": "10 16|30 36|02 42|04 44",
    "=": "02 42|04 44",
}
_OTHER = "00 40 46 06 00"  # a box, for what is not in the list


def text_size(lines: list[str], height: float) -> tuple[float, float]:
    """Return width and height of lines of text [mm].

    Args:
        lines: the text.
        height: of a capital [mm].
    """
    unit = height / HEIGHT
    longest = max(len(line) for line in lines)
    return ((longest - 1) * STEP + WIDTH) * unit, ((len(lines) - 1) * LINE + HEIGHT) * unit


def strokes(lines: list[str], height: float) -> list[tuple[Point, ...]]:
    """Return the strokes of lines of text, lower left corner of the whole at (0, 0) [mm].

    Args:
        lines: the text; small letters become capitals.
        height: of a capital [mm].
    """
    unit = height / HEIGHT
    found: list[tuple[Point, ...]] = []
    for row, line in enumerate(reversed(lines)):
        for column, sign in enumerate(line.upper()):
            if sign == " ":
                continue
            x, y = column * STEP, row * LINE
            for stroke in _GLYPHS.get(sign, _OTHER).split("|"):
                found.append(
                    tuple(
                        (unit * (x + int(pair[0])), unit * (y + int(pair[1])))
                        for pair in stroke.split()
                    )
                )
    return found
