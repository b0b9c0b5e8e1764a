"""Shapes as drawing instructions, the same for the screen and for files."""
