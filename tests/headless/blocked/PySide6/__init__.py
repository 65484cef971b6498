raise ModuleNotFoundError("PySide6 is out of reach in this lane", name="PySide6")
