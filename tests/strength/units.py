"""Units of the examples: kip, ksi and inches into N, MPa and mm."""

INCH = 25.4
KSI = 6.894757293168
KIP = 4448.2216152605
