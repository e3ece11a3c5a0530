"""Files for other programs: TEI and CSV.

May use job and below.
Used by the export verb and the desk.
"""
