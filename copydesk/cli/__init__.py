"""The command line: arguments, output, exit codes, opening the desk.

May use every room; Textual is imported only when the desk opens.
Used by people and scripts.
"""
