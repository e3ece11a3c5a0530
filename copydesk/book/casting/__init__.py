"""Casting off: the text broken into lines, lines into pages, and the line budget of each page.

May use the other rooms of book, book.materials aside.
Used by tracking.
"""
