"""A page against the exemplar: what it should hold, faults and their rates, the eye-skip watch.

May use tracking.state, tracking.ledger, comparing and book.
Used by tracking.commands, tracking.scribes, papers, desk and cli.
"""
