"""A copying tracker for a workshop that makes a manuscript book on loose sheets."""

__version__ = "0.1.0"
