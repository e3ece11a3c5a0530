"""The end of the work: assembly, the binder's walk through the gatherings, the colophon.

May use tracking.views, tracking.state and below.
Used by papers, desk and cli.
"""
