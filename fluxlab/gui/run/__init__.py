"""The run: the place switcher at the left, drawn as the mass balance of the job."""
