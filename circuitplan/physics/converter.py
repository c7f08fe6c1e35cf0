"""DC-DC converters and inverters seen from their input."""

from __future__ import annotations


def input_current(out_a: float, out_v: float, in_v: float, efficiency: float) -> float:
    """I_in = I_out U_out / (efficiency U_in) [A].

    ValueError unless 0 < efficiency <= 1 and the input voltage is positive.
    """
    if not 0.0 < efficiency <= 1.0:
        raise ValueError(f"efficiency {efficiency} is outside 0 to 1")
    if in_v <= 0.0:
        raise ValueError(f"input voltage {in_v} V is not positive")
    return out_a * out_v / (efficiency * in_v)
