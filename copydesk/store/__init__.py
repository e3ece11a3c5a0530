"""The only code that touches the disk or a server: plan and text in, ledger in and out, locks, copies.

May use tracking, comparing and book; nobody else imports tinydb or yaml.
Used by job and cli.
"""
