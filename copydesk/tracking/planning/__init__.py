"""The plan and the forecast: figures to try, ways to gather, what is left, when it ends.

May use tracking.scribes, tracking.fit, tracking.views, tracking.state and tracking.ledger.
Used by papers, desk and cli.
"""
