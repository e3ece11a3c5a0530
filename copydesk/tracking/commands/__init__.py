"""What a person may record: each command works out the facts of an entry from the state, or refuses.

May use tracking.views, tracking.checking, tracking.state, tracking.ledger, comparing and book.
Used by job, and through it by desk and cli; by tracking.fit, which tries commands as remedies.
"""
