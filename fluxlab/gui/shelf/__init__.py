"""The Shelf place: what have I got?"""
