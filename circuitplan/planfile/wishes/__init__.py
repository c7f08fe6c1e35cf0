"""What the user wishes to try: a sentence or options, as edits of the plan's text."""
