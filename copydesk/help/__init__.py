"""Help: one page a topic in Markdown, the glossary, the change notes, and their readers.

May use the standard library only.
Used by desk, cli and store.
"""
