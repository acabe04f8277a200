"""Where a link really goes: points, travel, swing, misalignment, tube ends.

Vehicle axes of ISO 8855: x forward, y to the left, z up; yaw, pitch and roll turn right-handed
about z, y and x in that order: positive pitch is nose down, positive roll lifts the left wheel.
Links keep their length, the axle and every lever are rigid; rubber does not give.
"""
