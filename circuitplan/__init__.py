"""Plan the electrics of accessories on vehicles and small craft: circuits, wire, fuses, supply."""

__version__ = "0.1.0"
