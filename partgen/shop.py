"""Everything the families may ask for while they draw: rails, joints, rack, rules, other mounts."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeVar

from partgen.entries.cutting import Cutting
from partgen.entries.joint import Joint
from partgen.entries.library import shipped
from partgen.entries.rail import Rail
from partgen.entries.stock import Stock
from partgen.errors import GeometryError, nearest
from partgen.fit.mount import Hands, Mount
from partgen.linkage.study import Study
from partgen.plates.plate import Window
from partgen.reference.rule_set import RuleSet
from partgen.strength.fillet_weld import usual_leg

T = TypeVar("T")


@dataclass(frozen=True)
class Floor:
    """A plate that ears stand on.

    Attributes:
        key: part and plate.
        stock: what it is cut from.
        hands: which it is made in.
        middle: x of the middle of its drawing [mm].
    """

    key: str
    stock: Stock
    hands: Hands
    middle: float


@dataclass(frozen=True)
class Shop:
    """The resolved job, as families see it.

    Attributes:
        unit: of what people read, "mm" or "in".
        rails: frame members by name.
        joints: joints by name.
        rack: plates to cut from, in the order of the job's sheets.
        rule_set: the chosen published rules.
        cutting: the chosen cutting profile.
        mounts: link mounts by name, as far as they are known.
        floors: plates that ears stand on, by the part that makes them.
        cuts: openings that parts need in other parts' plates, by the plate's key.
        linkage: where the links go, once that is known; None for a job without links.
    """

    unit: str
    rails: dict[str, Rail]
    joints: dict[str, Joint]
    rack: list[Stock]
    rule_set: RuleSet
    cutting: Cutting
    mounts: dict[str, Mount] = field(default_factory=dict)
    floors: dict[str, Floor] = field(default_factory=dict)
    cuts: dict[str, tuple[Window, ...]] = field(default_factory=dict)
    linkage: Study | None = None

    def usual_leg(self, thinner: float, edge: float | None = None) -> float:
        """Return the leg of a fillet where nobody named one [mm].

        Args:
            thinner: thickness of the thinner part joined [mm].
            edge: thickness of the plate along whose edge the fillet lies, if it does [mm].
        """
        share = self.rule_set.limits.values.leg_per_thickness
        return usual_leg(thinner, self.unit, share, edge)

    def rail(self, name: str) -> Rail:
        """Return the rail called ``name``.

        Raises:
            GeometryError: no such rail.
        """
        return _named("rail", name, self.rails)

    def joint(self, name: str) -> Joint:
        """Return the joint called ``name``.

        Raises:
            GeometryError: no such joint.
        """
        if name not in self.joints and name in shipped().joints:
            raise GeometryError(
                f"joint = '{name}': it is in the library; add [joint.{name}] with "
                f'like = "{name}" to the job'
            )
        return _named("joint", name, self.joints)

    def mount(self, name: str) -> Mount:
        """Return the mount called ``name``.

        Raises:
            GeometryError: no such mount.
        """
        return _named("mount", name, self.mounts)

    def floor(self, name: str) -> Floor:
        """Return the plate of the part called ``name`` that ears stand on.

        Raises:
            GeometryError: no such part.
        """
        return _named("part", name, self.floors)


def _named(kind: str, name: str, things: dict[str, T]) -> T:
    if name not in things:
        raise GeometryError(f"{kind} = '{name}': no such {kind}; {nearest(name, things)}")
    return things[name]
