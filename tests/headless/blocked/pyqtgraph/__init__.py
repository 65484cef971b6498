raise ModuleNotFoundError("pyqtgraph is out of reach in this lane", name="pyqtgraph")
