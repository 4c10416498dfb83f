"""What the contractor knows: entries loaded, checked and turned into numbers."""

__version__ = "0.4.0"
