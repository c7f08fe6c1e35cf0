"""The paper: result -> frozen view data -> template. Nothing here computes electrics."""
