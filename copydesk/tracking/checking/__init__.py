"""A page against the exemplar as it stands: what should be there, faults and their rates, the watch.

May use tracking.state, tracking.ledger, comparing and book.
Used by tracking.commands, papers, desk and cli.
"""
