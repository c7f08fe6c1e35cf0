"""Circuit sheets: a schematic of every circuit, with wire numbers, sizes, colours and terminals."""
