"""Which switch works what: the choice as an integer program, solved with proof."""
