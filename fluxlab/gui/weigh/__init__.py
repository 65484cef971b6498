"""The Weigh-out place."""
