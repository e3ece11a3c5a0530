"""The text to copy: exemplar, divisions, words, places, letter widths, changes made on purpose.

May use book.common, book.structure and book.plan.
Used by book.casting, comparing, tracking and store.
"""
