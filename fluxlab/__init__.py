"""fluxlab: design, check and weigh out the flux for a small melt of silver- and gold-bearing ore."""

__version__ = "0.1.0"
