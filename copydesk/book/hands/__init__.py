"""How closely a hand writes: its set, samples, the fit to them and the filter that follows it.

May use book.common, book.plan and book.text.
Used by book.casting, tracking and store.
"""
