"""The Textual app that people sit at; its screens hold no facts of their own.

May use papers, job and below.
Used by cli.
"""
