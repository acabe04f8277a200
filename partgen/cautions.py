"""Cautions that go with everything the shop is handed."""

CAUTIONS = (
    "Screening only: partgen checks shapes against published tables. It does not approve a "
    "bracket, and no figure here is a load you may rely on.",
    "Structural welding on a road vehicle may need a qualified welder and an inspection; follow "
    "your local vehicle code, and ask a licensed engineer where it asks for one.",
    "Support the vehicle and the axle on stands, never on a jack alone, before anything is cut or "
    "unbolted.",
    "Plasma and welding: shield eyes, ears and lungs, clear fuel and lines away, isolate the "
    "battery, keep an extinguisher and a second person near. Grind zinc and paint back first.",
    "Tack, fit the joint, cycle the link through its whole travel with the springs out, have it "
    "examined, then finish the weld.",
    "Cut files are nominal unless their name and head say that the kerf is compensated: never in "
    "file and machine both. Check the unit and one dimension on the machine before the torch is "
    "lit; run a motion program with the torch off first.",
)
SHORT = (
    "Screening only. Structural welds on a vehicle can kill: follow your local vehicle code and "
    "licensed practice, support the vehicle on stands, check unit and kerf before you cut."
)
ON_PAPER = "Screening only. Follow your local vehicle code and licensed practice."
TORCH_OFF = "CHECK ON YOUR MACHINE WITH THE TORCH OFF FIRST"
LABEL = "screening only"  # on every figure of strength
STRENGTH = (
    "Screening only, no figure to rely on: fatigue, shock, heat and weld quality are not judged. "
    "Forces are reduced strengths as a force at the joint, worst direction."
)
