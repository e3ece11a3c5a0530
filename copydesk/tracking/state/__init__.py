"""The book as it stands: plan and ledger worked into text, leaves, pages, hands and line budget.

May use tracking.ledger and book.
Used by the other rooms of tracking and by job; it knows nothing computed from it.
"""
