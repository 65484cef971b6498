raise ModuleNotFoundError("shiboken6 is out of reach in this lane", name="shiboken6")
