"""Fault finding: for every circuit the fewest measurements that isolate each likely fault."""
