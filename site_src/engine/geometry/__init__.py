"""Plane geometry; the only layer that knows a geometry library, and that behind one door (``kernel``)."""
