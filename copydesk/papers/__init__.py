"""What is printed or handed on: one paper a file.

May use job and below; papers.drawing for lines and letters.
Used by desk and cli.
"""
