"""Whether the text fits: stretches between fixed pages, the end of the book, and remedies.

May use tracking.commands, tracking.views, tracking.state and tracking.ledger.
Used by tracking.scribes, tracking.planning, papers, desk and cli.
"""
