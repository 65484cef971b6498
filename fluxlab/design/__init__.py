"""The recipe: its value, edits, report, cautions and ticket."""
