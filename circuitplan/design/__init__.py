"""Decisions: currents, routes, wire, fuse, relay, network, supply. Each keeps its working."""
