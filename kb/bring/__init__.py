"""Many entries at once: read a sheet, say what it would write, and name every wrong cell."""
