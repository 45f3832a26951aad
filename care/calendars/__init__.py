"""Calendars that other programs subscribe to.

Plain values in, bytes out: no queries, no clock. Pages and actions decide who may see
what before anything arrives here.
"""
