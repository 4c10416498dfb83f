"""One form per file: what the page's scripts bring to life; without scripts it stays out of sight."""
