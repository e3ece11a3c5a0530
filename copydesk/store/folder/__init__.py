"""A book folder as a whole: make, open, merge, back up, restore, export, list a shelf.

May use all other rooms of store.
Used by job and cli.
"""
