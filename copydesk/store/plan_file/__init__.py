"""book.yaml: read with the place of every value, checked, and turned into the plan.

May use store.files and book.
Used by store.folder.
"""
