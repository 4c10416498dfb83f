"""One form per file: what scripts bring to life; without scripts it stays out of sight."""
