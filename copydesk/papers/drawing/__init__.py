"""Drawing on paper: shapes, typesetting, fonts, tiling, PDF and SVG.

May use book.common and reportlab.
Used by papers.
"""
