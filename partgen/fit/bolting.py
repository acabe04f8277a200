"""How long the bolt through a joint must be, and where its threads end up.

The threads must stay out of both shear planes (the faces between ear and joint), better out of the
far ear too; the nut must not run out of thread; two threads show (common practice, no source).
Thread lengths come from the bolt's own standard.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from partgen.reference.bolt import Bolt

THREADS_SHOWING = 2  # common practice, no source
MOST_WASHERS = 2  # extra ones under the nut; common practice, no source
SLACK = 1e-6  # mm


@dataclass(frozen=True)
class BoltFit:
    """One stock length of bolt through two ears and a joint.

    Attributes:
        bolt: the bolt.
        length: under the head [mm].
        near_ear: thickness of the ear at the head [mm].
        joint: what is clamped between the ears, joint and shims [mm].
        far_ear: thickness of the ear at the nut [mm].
        nut_height: of the nut used [mm].
        shank: plain body of the bolt in hand as measured; None: by the bolt's standard [mm].
    """

    bolt: Bolt
    length: float
    near_ear: float
    joint: float
    far_ear: float
    nut_height: float
    shank: float | None = None

    @property
    def grip(self) -> float:
        """Head to nut with one washer at each end [mm]."""
        return 2 * self.bolt.washer_thickness + self.near_ear + self.joint + self.far_ear

    @property
    def shear_planes(self) -> tuple[float, float]:
        """The two faces between ear and joint, from under the head [mm]."""
        first = self.bolt.washer_thickness + self.near_ear
        return first, first + self.joint

    @property
    def ears_end(self) -> float:
        """Outer face of the far ear, from under the head [mm]."""
        return self.shear_planes[1] + self.far_ear

    @property
    def thread_start(self) -> float:
        """Where full thread can begin: length less thread length, or the measured shank [mm]."""
        return self.bolt.grip_length(self.length) if self.shank is None else self.shank

    @property
    def body_end(self) -> float:
        """Where the full body ends: before the thread's run-out, or the measured shank [mm]."""
        return self.bolt.body_length(self.length) if self.shank is None else self.shank

    @property
    def extra_washers(self) -> int:
        """Washers to add under the nut so that it does not run out of thread."""
        over = self.thread_start - self.grip
        return ceil(over / self.bolt.washer_thickness - SLACK) if over > SLACK else 0

    @property
    def threads_showing(self) -> float:
        """Pitches of thread beyond the nut [-]."""
        stack = self.grip + self.extra_washers * self.bolt.washer_thickness + self.nut_height
        return (self.length - stack) / self.bolt.pitch

    @property
    def threads_clear_of_shear(self) -> bool:
        """No full thread in either shear plane; its run-out may lie in one."""
        return self.thread_start >= self.shear_planes[1] - SLACK

    @property
    def body_clear_of_shear(self) -> bool:
        """The full body, without the run-out of the thread, reaches past both shear planes."""
        return self.body_end >= self.shear_planes[1] - SLACK

    @property
    def full_ear(self) -> bool:
        """The far ear bears on no thread."""
        return self.thread_start >= self.ears_end - SLACK

    @property
    def long_enough(self) -> bool:
        """The nut is full and the wanted threads show."""
        return self.threads_showing >= THREADS_SHOWING - SLACK

    @property
    def suits(self) -> bool:
        """Long enough, threads out of joint and ears, few extra washers."""
        return self.long_enough and self.full_ear and self.extra_washers <= MOST_WASHERS

    @property
    def verdict(self) -> str:
        """Say in words what is right or wrong with this length."""
        if not self.long_enough:
            return "too short: nut not full or fewer than two threads showing"
        if not self.threads_clear_of_shear:
            return "threads inside the joint"
        if not self.full_ear:
            return "full thread clear of both shear planes, but in the far ear"
        washers = self.extra_washers
        if washers > MOST_WASHERS:
            return f"nut runs out of thread: {washers} extra washers"
        body = "body clear of both shear planes"
        if not self.body_clear_of_shear:
            body = "full thread clear of both shear planes, its run-out may lie in one"
        plural = "" if washers == 1 else "s"
        return f"{body}, {washers} extra washer{plural} under the nut" if washers else body


def bolt_lengths(
    bolt: Bolt, near_ear: float, joint: float, far_ear: float, nut_height: float | None = None
) -> list[BoltFit]:
    """Return every stock length of ``bolt`` through the stack, shortest first.

    Args:
        bolt: the bolt.
        near_ear: thickness of the ear at the head [mm].
        joint: what is clamped between the ears [mm].
        far_ear: thickness of the ear at the nut [mm].
        nut_height: if not the plain nut of the bolt's table [mm].
    """
    nut = bolt.nut_height if nut_height is None else nut_height
    return [BoltFit(bolt, length, near_ear, joint, far_ear, nut) for length in bolt.lengths]


def best_bolt(lengths: list[BoltFit]) -> BoltFit | None:
    """Return the shortest length that suits; else one whose threads clear the shear planes."""
    for fit in lengths:
        if fit.suits:
            return fit
    for fit in lengths:
        if fit.long_enough and fit.threads_clear_of_shear and not fit.full_ear:
            return fit
    return None
