"""The ledger on a database server, with a local copy for when the line is down.

May use store.journal and store.files.
Used by store.folder and cli.
"""
