"""The room as it is, and how sure we are of it: corners, walls, readings and their checks."""
