"""The only code that touches the disk: the book folder in, the ledger in and out."""
