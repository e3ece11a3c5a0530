"""The ledger on disk: lines, mirror, TinyDB storage, audit and repair.

May use store.files and tracking.ledger.
Used by store.server, store.folder and job.
"""
