"""The disk: the library, files and settings."""
