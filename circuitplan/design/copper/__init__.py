"""The sizes of all wires chosen together: the least copper, with proof."""
