"""Entries, their kinds, and what the entries about one page, space, sheet or leaf come to.

May use book.
Used by the other rooms of tracking, and by store.
"""
