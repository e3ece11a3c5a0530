"""The page: margins, canons, ruling, reserved spaces, flaws, and the lines they leave for text.

May use book.common, book.structure and book.plan.
Used by book.casting, tracking and papers.
"""
