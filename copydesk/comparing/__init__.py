"""A copied page against its exemplar: aligning, naming the error, seeing it come."""
