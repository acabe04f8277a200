"""The kinds of part that can be made. The dictionary is the list: one file each."""

from partgen.families.axle_saddle import AxleSaddle
from partgen.families.bridge import Bridge
from partgen.families.clevis import Clevis
from partgen.families.crossmember_flange import CrossmemberFlange
from partgen.families.dummy_spacer import DummySpacer
from partgen.families.face_plate import FacePlate
from partgen.families.free_plate import FreePlate
from partgen.families.from_dxf import FromDxf
from partgen.families.gusset import Gusset
from partgen.families.link_mount import LinkMount
from partgen.families.part import Part
from partgen.families.shock_mount import ShockMount
from partgen.families.single_ear import SingleEar
from partgen.families.skid_plate import SkidPlate
from partgen.families.spacer import Spacer
from partgen.families.through_ear import ThroughEar
from partgen.families.tower import Tower
from partgen.families.washer import Washer

FAMILIES: dict[str, type[Part]] = {
    "axle-saddle": AxleSaddle,
    "bridge": Bridge,
    "clevis": Clevis,
    "crossmember-flange": CrossmemberFlange,
    "dummy-spacer": DummySpacer,
    "ear": SingleEar,
    "face-plate": FacePlate,
    "from-dxf": FromDxf,
    "gusset": Gusset,
    "link-mount": LinkMount,
    "plate": FreePlate,
    "shock-mount": ShockMount,
    "skid-plate": SkidPlate,
    "spacer": Spacer,
    "through-ear": ThroughEar,
    "tower": Tower,
    "washer": Washer,
}
