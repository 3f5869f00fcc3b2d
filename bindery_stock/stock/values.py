"""The plain values that go into the stockroom and come out of it.

All lengths are millimetres with y up the warp; photo points are pixels of the upright photograph,
x right and y down; colours are CIELAB (D50, 2° observer). Everything here is frozen: what the
stockroom hands out cannot change the stockroom.
"""
