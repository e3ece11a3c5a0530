"""Skins and what is made of them: cutting, preparation, and cautions for materials that can harm.

May use book.common and book.plan.
Used by tracking, papers and the verbs that show cautions.
"""
