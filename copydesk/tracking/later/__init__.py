"""What of each page is left to later passes, and which of them are still to be done.

May use tracking.state and tracking.ledger.
Used by tracking.views and all above it.
"""
