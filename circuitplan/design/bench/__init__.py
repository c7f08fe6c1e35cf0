"""What reaches the bench: parts, pieces to cut, test readings and their causes, fault finding."""
