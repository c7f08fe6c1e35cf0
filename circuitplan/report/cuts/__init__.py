"""The cut list: every wire to cut, and which reel it comes from."""
