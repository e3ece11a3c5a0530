"""The desk: the Textual application."""
