"""Small things that every room needs: errors, units, numerals, phrases, progress, distributions, safe text.

May use the standard library only.
Used by every other room.
"""
