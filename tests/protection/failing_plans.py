"""A plan whose protection fails in every way that can be cured. Invented data, no engineering."""

from __future__ import annotations

HEAD = """circuitplan: 1
system: 12 V
supply:
  battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: cab}
  alternator: 120 A
panels: {main: {place: cab, fed_from: battery, fuse: 100 A class T, fuses: C}}
switches: {S1: {rating: 30 A}}
accessories:
"""

FAR_LAMP = (
    "  - {name: Far lamp, power: 50 W, length: 12 m, size: 1 mm2, fuse: 15 A E, drop: 20 %}\n"
)
LONG_PUMP = (
    "  - {name: Long pump, current: 6 A, load: torque motor, length: 14 m, size: 1.5 mm2,"
    " fuse: 20 A, drop: 15 %, cut_out: yes}\n"
)
MOTOR = (
    "  - {name: Motor, current: 25 A, load: torque motor, kind: air compressor, inrush: 150 A,"
    " length: 2 m, fuse: 35 A C, cut_out: yes, drop: 10 %}\n"
)
AT_BATTERY = (
    "  - {name: Coil, current: 8 A, load: torque motor, length: 2 m, fed_from: battery,"
    " fuse: 15 A C, cut_out: yes}\n"
)
SHARED = (
    "  - {name: A, power: 20 W, length: 9 m, switch: S1, size: 1 mm2, drop: 10 %, fuse: 20 A E}\n"
    "  - {name: B, power: 120 W, length: 2 m, switch: S1}\n"
)
EVERYTHING = HEAD + FAR_LAMP + LONG_PUMP + MOTOR + AT_BATTERY + SHARED
