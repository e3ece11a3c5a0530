"""Files of any kind: safe writing, locks, text files, settings of the person, the paths of a folder.

May use book.
Used by the other rooms of store.
"""
