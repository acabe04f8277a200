"""Notes: each is a warning, in the job's unit; none without."""

from helpers import plate, shop

from partgen.rules import note
from partgen.rules.finding import Status

SQUARE = plate([(0, 0), (100, 0), (100, 50), (0, 50)])


def test_no_note_no_finding():
    assert note.check(SQUARE, shop()) == []


def test_each_note_is_a_warning_in_the_jobs_unit():
    noted = SQUARE.with_note("gap of 25.4 mm closed").with_note(None).with_note("second")
    found = note.check(noted, shop(unit="in"))
    assert [f.status for f in found] == [Status.WARN, Status.WARN]
    assert [f.note for f in found] == ["gap of 1 in closed", "second"]
