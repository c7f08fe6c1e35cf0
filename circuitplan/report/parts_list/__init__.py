"""The parts list: what to buy, in both gauges, priced by the user."""
