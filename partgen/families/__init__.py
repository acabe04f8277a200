"""The kinds of part that can be made. The dictionary is the list: one file each."""

from partgen.families.gusset import Gusset
from partgen.families.link_mount import LinkMount
from partgen.families.part import Part
from partgen.families.spacer import Spacer

FAMILIES: dict[str, type[Part]] = {
    "gusset": Gusset,
    "link-mount": LinkMount,
    "spacer": Spacer,
}
