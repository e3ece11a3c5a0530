"""The ledger in words: each entry as a sentence, entries made at the same time, contradictions.

May use tracking.views, tracking.fit and below.
Used by job, desk and cli.
"""
