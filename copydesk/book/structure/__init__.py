"""How sheets make gatherings, leaves and pages: conjugates, sides, foliation, signatures, leaf changes.

May use book.common.
Used by book.formula, book.casting, tracking, papers and the desk.
"""
