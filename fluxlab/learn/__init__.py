"""After the pour: what came out of a melt, and what that says."""
