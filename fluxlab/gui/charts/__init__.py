"""Charts: axes by pyqtgraph, what stands in them drawn in the program's own hand."""
