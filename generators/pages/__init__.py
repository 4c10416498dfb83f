"""One maker per kind of page: an entry in, a page out, nothing written."""
