"""The end of the work: assembly, the binder's walk through the gatherings, the colophon.

May use tracking.views, tracking.state and tracking.ledger.
Used by tracking.log, papers, desk and cli.
"""
