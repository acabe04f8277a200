"""partgen from Python: load a job, build it, check it, write it; change a number, lay it out.

Load a job file and build its plates:

    >>> from pathlib import Path
    >>> from partgen import api
    >>> path = next(file for file in api.demo_files() if file.stem == "camping-trailer")
    >>> job = api.load_job(path)
    >>> built = api.build(job)
    >>> [plate.label for plate in built.plates][:2]
    ['arm-mount/inner/left', 'arm-mount/inner/right']
    >>> round(built.plates[0].area), built.plates[0].thickness
    (25990, 6.35)

Check it against the job's rules:

    >>> findings = api.check(built)
    >>> any(finding.stops for finding in findings)
    False
    >>> findings[0].rule, findings[0].status.value, findings[0].source
    ('edge-distance', 'pass', 'AISC 360-16 Table J3.4')

Lay its plates out on its sheets:

    >>> [(str(nest.stock.thickness), len(nest.layout.placements)) for nest in api.nest_job(built)]
    [('6.35', 8), ('9.525', 4)]

Make its files, and write them into a folder, all or none, each cut file read back first:

    >>> made = api.make_job(built, only=["web"], version="R12", asked=api.Asked(kerf="profile"))
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     api.write(made, Path(folder, "out"))
    ...     len(list(Path(folder, "out", "plates").glob("*.dxf")))
    2

See what another number changes; the job file stays as it is (:func:`save` writes it there):

    >>> change = api.adjust(path, {"joint_width": "2-3/4 in"})
    >>> {plate.label: plate.state for plate in change.plates}["rail-spacer/pad"]
    'recut'
    >>> change.stops
    False

What is wrong with an input is a :class:`PartgenError`, one line for each mistake in ``problems``:

    >>> try:
    ...     api.load_job(path, {"joint_with": "63 mm"})
    ... except api.PartgenError as error:
    ...     print(error.problems[0])
    camping-trailer.toml: --set joint_with: no such measure; did you mean 'joint_width'?

A plate of your own goes through the geometry rules, alone or a thousand in one call:

    >>> corners = [api.Vertex(0, 0), api.Vertex(90, 0), api.Vertex(90, 60), api.Vertex(0, 60)]
    >>> m12, steel = api.bolt("M12"), api.material("S355")
    >>> plate = api.Plate(
    ...     part="cart", name="foot", outline=api.Outline.of(corners), thickness=6.0,
    ...     holes=(api.Hole("foot", 15, 30, m12.hole("normal"), m12),), material=steel,
    ... )
    >>> [finding.where for finding in api.check_plates([plate], built.shop) if finding.stops]
    ['hole foot to outside edge']

Where what is wanted is: exact outlines in ``Build.plates`` (:class:`Vertex` with its bulge, as in
DXF), the sum through each bolt in ``Mount.fit`` and ``Mount.bolt_fit``, the place of every plate in
``Nest.layout``, the bytes of every file by its path in ``Made.files``. Everything is in mm, N, MPa,
kg and degrees.
"""

from partgen.errors import PartgenError
from partgen.fit.bolting import BoltFit
from partgen.fit.fit import Fit
from partgen.fit.mount import Mount
from partgen.geometry.outline import Outline, Vertex
from partgen.job.build import Build, build
from partgen.job.job import Job, load_job
from partgen.layout import Layout, Placement
from partgen.plates.plate import Hole, Mark, Plate, Window
from partgen.reference.bolt import Bolt, bolt
from partgen.reference.material import Material, material
from partgen.rules import check, check_plates
from partgen.rules.finding import Finding, Status
from partgen.sheets.cut_plans import Asked
from partgen.sheets.nest import Nest, nest_job
from partgen.sheets.searching import Searching
from partgen.shop import Shop
from partgen.tasks.adjusting import adjust, compare_files, save
from partgen.tasks.comparison import Comparison
from partgen.tasks.demos import demo_files
from partgen.tasks.making import Made, make, make_job, write

__all__ = [
    "Asked",
    "Bolt",
    "BoltFit",
    "Build",
    "Comparison",
    "Finding",
    "Fit",
    "Hole",
    "Job",
    "Layout",
    "Made",
    "Mark",
    "Material",
    "Mount",
    "Nest",
    "Outline",
    "PartgenError",
    "Placement",
    "Plate",
    "Searching",
    "Shop",
    "Status",
    "Vertex",
    "Window",
    "adjust",
    "bolt",
    "build",
    "check",
    "check_plates",
    "compare_files",
    "demo_files",
    "load_job",
    "make",
    "make_job",
    "material",
    "nest_job",
    "save",
    "write",
]
