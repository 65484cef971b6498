"""The Ore place: what am I melting?"""
