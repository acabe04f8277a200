"""partgen from Python: load a job, build it, check it, write it.

    >>> from pathlib import Path
    >>> from partgen import api
    >>> job = api.load_job(api.demo_files()[0])
    >>> built = api.build(job)
    >>> [plate.label for plate in built.plates][:2]
    ['arm-mount/inner/left', 'arm-mount/inner/right']
    >>> any(finding.stops for finding in api.check(built))
    False
    >>> made = api.make_job(built, only=["web"], version="R12")
    >>> sum(name.startswith("plates/") for name in made.files)
    2

``api.check_plates(plates, job.shop)`` runs the geometry rules on any number of plates, for a sweep.
``api.adjust(path, {"joint_width": "63 mm"})`` says what another number changes.

``api.write(made, Path("out"))`` puts the files into a folder, all or none. What is wrong with an
input is a :class:`PartgenError` with one line for each mistake in ``problems``. Everything is in
mm, N, MPa, kg and degrees.
"""

from partgen.errors import PartgenError
from partgen.geometry.outline import Outline, Vertex
from partgen.job.build import Build, build
from partgen.job.job import Job, load_job
from partgen.plates.plate import Hole, Mark, Plate, Window
from partgen.rules import check, check_plates
from partgen.rules.finding import Finding, Status
from partgen.sheets.cut_plans import Asked
from partgen.sheets.nest import Nest, nest_job
from partgen.tasks.adjusting import adjust, compare_files
from partgen.tasks.comparison import Comparison
from partgen.tasks.demos import demo_files
from partgen.tasks.making import Made, make, make_job, write

__all__ = [
    "Asked",
    "Build",
    "Comparison",
    "Finding",
    "Hole",
    "Job",
    "Made",
    "Mark",
    "Nest",
    "Outline",
    "PartgenError",
    "Plate",
    "Status",
    "Vertex",
    "Window",
    "adjust",
    "build",
    "check",
    "check_plates",
    "compare_files",
    "demo_files",
    "load_job",
    "make",
    "make_job",
    "nest_job",
    "write",
]
