"""The Melts place: what did the last ones teach?"""
