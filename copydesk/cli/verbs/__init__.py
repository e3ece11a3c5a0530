"""One verb a file, imported by name when it is called.

May use cli and every room below it.
Used by cli.main.
"""
