"""A copied page against the exemplar: alignment, the faults found and their names, the eye-skip watch.

May use book.
Used by tracking and above.
"""
