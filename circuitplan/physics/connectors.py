"""What a connector's contact bears where it is hotter than where its rating was found."""

from __future__ import annotations

import math


def usable_a(rating_a: float, rated_at_c: float, class_c: float, ambient_c: float) -> float:
    """I = I_r √((T_class − T_ambient) / (T_class − T_rated)), never above I_r [A].

    A contact's rise goes with the square of its current (its resistance is the same), and what is
    left for the rise is its class less its surroundings: the basic curve of derating tests
    (IEC 60512-5-2; from memory). 0 from the class up, and where the rating holds only above it.
    """
    if ambient_c <= rated_at_c:
        return rating_a
    if ambient_c >= class_c or rated_at_c >= class_c:
        return 0.0
    return rating_a * math.sqrt((class_c - ambient_c) / (class_c - rated_at_c))
