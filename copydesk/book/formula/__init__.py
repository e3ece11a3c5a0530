"""Collation formulas: read into gatherings, checked, and printed back.

May use book.common and book.structure.
Used by the plan file, tracking.ledger and the formula verb.
"""
